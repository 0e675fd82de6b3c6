// One writing off: how many, of what, why and by whom; taken back in a tap by whoever may.

import { useState } from 'preact/hooks'
import { withdrawnFact } from '../crop/facts'
import { lotCell } from '../crop/lots'
import { mayCorrect } from '../crop/member'
import type { Shrink } from '../crop/sale_nouns'
import { count, dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { lotWritten } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'

export function ShrinkRow({ shrink }: { readonly shrink: Shrink }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [problem, setProblem] = useState('')
  const mine = mayCorrect(notebook.member.value, shrink.person, false)
  const back = () => notebook.record([withdrawnFact('shrink', shrink.id, true, 'shed')]).then(
    () => announce(t('shrink.back')),
    (reason: unknown) => setProblem(failureText(reason)),
  )
  const by = (shrink.person !== '' && farm.people.get(shrink.person)?.name) || undefined
  return (
    <li class="shrink-row">
      <p>
        <b>{t('shrink.line', { n: count(shrink.stems), reason: t(`shrink.${shrink.reason}`) })}</b>
        {shrink.what !== '' && <span class="block">{shrink.what}</span>}
        <a class="small block" href={href('shed', 'lot', lotCell(shrink.lot))}>{lotWritten(farm, lotCell(shrink.lot))}</a>
        <span class="small block">{[dayName(shrink.date, today.value), by].filter(Boolean).join(' · ')}</span>
        {problem !== '' && <span class="block" role="alert">{problem}</span>}
      </p>
      {mine && <button type="button" class="btn" onClick={() => void back()}>{t('shrink.take_back')}</button>}
    </li>
  )
}
