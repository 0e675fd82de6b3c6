// The message of what is on offer, in either language, to copy or to share.

import { useEffect, useState } from 'preact/hooks'
import { language, type Language, speakerOf, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { SendText } from '../ui/SendText'
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
  useEffect(() => {
    let still = true
    void speakerOf(spoken).then((say) => {
      if (still) setText(availabilityText(farm, offers, say, { bunch, currency: farm.sales.terms.currency, priceOf }))
    })
    return () => { still = false }
  })
  return (
    <div class="card">
      <h2>{t('availability.message')}</h2>
      <Choice
        name={t('availability.language')} value={spoken} onChoose={(one) => void setAvailability(notebook, { language: one })}
        options={[['en', t('settings.language.en')], ['es', t('settings.language.es')]]}
      />
      <SendText text={text} name={t('availability.message')} />
    </div>
  )
}
