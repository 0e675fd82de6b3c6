// The reading kept last, in words, and taking it back.

import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { codeOf, failureText } from '../ui/words'
import { Readings } from './readings'
import { colourText, uncertaintyText } from './words'

export function LastKept({ onTakenBack }: { readonly onTakenBack?: () => void }) {
  const notebook = useNotebook()
  const readings = Readings.of(notebook)
  const farm = notebook.farm.value
  const last = readings.last()
  const failure = readings.failure.value
  const takeBack = async () => {
    const back = await readings.takeBack()
    if (!back) return
    announce(t(back.photo === '' ? 'measuring.taken_back.bare' : 'measuring.taken_back', { code: codeOf(notebook.farm.peek(), back.plant) }))
    onTakenBack?.()
  }
  if (!last && failure === undefined) return null
  const code = last ? codeOf(farm, last.plant) : ''
  return (
    <div class="last-action">
      {failure !== undefined
        ? <p class="note stop" role="alert">{failureText(failure)}</p>
        : last && <p class="small">{t('row.last', { action: t('measuring.kept', { code, colour: colourText(last.lab), n: uncertaintyText(last.lab, last.se) }) })}</p>}
      {last && <button type="button" class="btn" onClick={() => void takeBack()}>{t('measuring.back', { code })}</button>}
    </div>
  )
}
