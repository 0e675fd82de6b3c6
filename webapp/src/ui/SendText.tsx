// A text to send to somebody: read, copied, or handed to another app.

import { useRef, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { announce } from './announce'
import { copyText, mayShare, shareText } from './copy_text'
import { Icon } from './Icon'
import './send-text.css'

interface SendTextProps {
  readonly text: string
  readonly name: string
}

export function SendText({ text, name }: SendTextProps) {
  const [said, setSaid] = useState('')
  const area = useRef<HTMLTextAreaElement>(null)
  const copy = async () => {
    const copied = await copyText(text)
    if (!copied) area.current?.select()
    const words = t(copied ? 'availability.copied' : 'availability.copy.by_hand')
    setSaid(words)
    announce(words)
  }
  return (
    <>
      <textarea ref={area} class="send-text" readOnly rows={8} value={text} aria-label={name} />
      <div class="buttons">
        <button type="button" class="btn tall" onClick={() => void copy()}>{t('availability.copy')}</button>
        {mayShare() && <button type="button" class="btn tall" onClick={() => void shareText(text)}><Icon name="share" />{t('availability.share')}</button>}
      </div>
      {said !== '' && <p class="small" role="status">{said}</p>}
    </>
  )
}
