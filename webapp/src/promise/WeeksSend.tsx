// What is safe to offer as a message, in either language, and as a file.

import { useEffect, useState } from 'preact/hooks'
import { language, type Language, locale, speakerOf, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { download } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { SendText } from '../ui/SendText'
import { weeksCsv } from './weeks_csv'
import type { WeekOffers } from './weeks_offers'
import type { PriceOf } from './weeks_price'
import { setWeeks, weeksSettings } from './weeks_settings'
import { weeksText } from './weeks_text'

interface WeeksSendProps {
  readonly weeks: readonly WeekOffers[]
  readonly priceOf: PriceOf | undefined
}

export function WeeksSend({ weeks, priceOf }: WeeksSendProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { language: its } = weeksSettings.value
  const spoken: Language = its === '' ? language.value : its
  const [text, setText] = useState('')
  useEffect(() => {
    let still = true
    void speakerOf(spoken).then((say) => { if (still) setText(weeksText(farm, weeks, say, priceOf)) })
    return () => { still = false }
  })
  const save = () => download(new Blob([weeksCsv(farm, weeks, locale.value, priceOf)], { type: 'text/csv;charset=utf-8' }), `weeks-${weeks[0]?.from ?? ''}.csv`)
  return (
    <div class="card">
      <h2>{t('availability.message')}</h2>
      <Choice
        name={t('availability.language')} value={spoken} onChoose={(one) => void setWeeks(notebook, { language: one })}
        options={[['en', t('settings.language.en')], ['es', t('settings.language.es')]]}
      />
      <SendText text={text} name={t('availability.message')} />
      <button type="button" class="btn tall" onClick={save}><Icon name="save" />{t('availability.file.save')}</button>
    </div>
  )
}
