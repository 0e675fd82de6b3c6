// The message of what is on offer, in either language, to copy or to share.

import { useEffect, useRef, useState } from 'preact/hooks'
import { language, type Language, speakerOf, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Choice } from '../ui/Choice'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import type { Offer } from './availability'
import type { PriceOf } from './availability_price'
import { availabilitySettings, setAvailability } from './availability_settings'
import { availabilityText } from './availability_text'

interface AvailabilityMessageProps {
  readonly offers: readonly Offer[]
  readonly priceOf: PriceOf | undefined
}

export function AvailabilityMessage({ offers, priceOf }: AvailabilityMessageProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { bunch, language: its } = availabilitySettings.value
  const spoken: Language = its === '' ? language.value : its
  const [text, setText] = useState('')
  const [said, setSaid] = useState('')
  const area = useRef<HTMLTextAreaElement>(null)
  useEffect(() => {
    let still = true
    void speakerOf(spoken).then((say) => {
      if (still) setText(availabilityText(farm, offers, say, { bunch, currency: farm.sales.terms.currency, priceOf }))
    })
    return () => { still = false }
  })
  const tell = (words: string) => { setSaid(words); announce(words) }
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text)
      tell(t('availability.copied'))
    } catch { // no leave, or a page without https: what is marked can be copied by hand
      area.current?.select()
      tell(t('availability.copy.by_hand'))
    }
  }
  const share = () => navigator.share({ text }).catch(() => undefined) // put away again, which is no failure
  return (
    <div class="card">
      <h2>{t('availability.message')}</h2>
      <Choice
        name={t('availability.language')} value={spoken} onChoose={(one) => void setAvailability(notebook, { language: one })}
        options={[['en', t('settings.language.en')], ['es', t('settings.language.es')]]}
      />
      <textarea ref={area} class="availability-text" readOnly rows={8} value={text} aria-label={t('availability.message')} />
      <div class="buttons">
        <button type="button" class="btn tall" onClick={() => void copy()}>{t('availability.copy')}</button>
        {'share' in navigator && <button type="button" class="btn tall" onClick={() => void share()}><Icon name="share" />{t('availability.share')}</button>}
      </div>
      {said !== '' && <p class="small" role="status">{said}</p>}
    </div>
  )
}
