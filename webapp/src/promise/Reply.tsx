// The reply as it will be pasted, to copy or to hand to another app.

import type { RefObject } from 'preact'
import { t } from '../messages/messages'
import { mayShare, shareText } from '../ui/copy_text'

interface ReplyProps {
  readonly text: string
  readonly area: RefObject<HTMLTextAreaElement | null>
  readonly said: string
  readonly onCopy: () => void
}

export function Reply({ text, area, said, onCopy }: ReplyProps) {
  return (
    <div class="card">
      <h2>{t('promise.reply')}</h2>
      <textarea ref={area} class="ask-reply" readOnly rows={rowsOf(text)} value={text} aria-label={t('promise.reply')} />
      <div class="buttons">
        <button type="button" class="btn" onClick={onCopy}>{t('promise.reply.copy')}</button>
        {mayShare() && <button type="button" class="btn" onClick={() => void shareText(text)}>{t('promise.reply.share')}</button>}
      </div>
      {said !== '' && <p class="small" role="status">{said}</p>}
    </div>
  )
}

/** On a narrow phone some so many characters stand in a line. */
const across = 32

function rowsOf(text: string): number {
  return text.split('\n').reduce((rows, line) => rows + Math.max(1, Math.ceil(line.length / across)), 0)
}
