// What is still to come of the stems that are chosen: a sentence, the weeks, and one of them from near.

import { useMemo, useState } from 'preact/hooks'
import { openNeeds } from '../crop/line_needs'
import { addDays } from '../crop/day'
import type { Day } from '../crop/nouns'
import type { Draws } from '../forecast/draws'
import type { ForecastAnswer } from '../forecast/forecast'
import { everyStem, type Which } from '../forecast/sums'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { toComeFrom, weeksThatMatter } from '../forecast/to_come'
import { toComeSentence } from './to_come_sentence'
import { ToComeNotes } from './ToComeNotes'
import { WeekDetail } from './WeekDetail'
import { WeeksPicture } from './WeeksPicture'
import { WeeksTable } from './WeeksTable'
import { WhichStems } from './WhichStems'

interface ToComeReportProps {
  readonly answer: ForecastAnswer
  readonly draws: Draws
}

export function ToComeReport({ answer, draws }: ToComeReportProps) {
  const farm = useNotebook().farm.value
  const [which, setWhich] = useState<Which>(everyStem)
  const [chosen, setChosen] = useState<Day | undefined>(undefined)
  const [all, setAll] = useState(false)
  const needs = useMemo(() => openNeeds(farm.sales, today.value, addDays(draws.weeks.at(-1) ?? today.value, 6)), [farm.sales, today.value, draws])
  const coming = useMemo(() => toComeFrom(draws, which, today.value, needs), [draws, which, today.value, needs])
  const { now, later, empty } = weeksThatMatter(coming)
  const shown = all ? [...now, ...later] : now
  const week = shown.find(({ first }) => first === chosen)
  return (
    <>
      <Say text={toComeSentence(farm, coming, which, answer.season)} />
      <ToComeNotes answer={answer} empty={empty} firstShown={now[0]?.first} over={!coming.heaviest && which === everyStem} />
      {shown.length > 0 && (
        <div class="ahead-weeks">
          <div class="ahead-picture">
            <WeeksPicture weeks={shown} chosen={week?.first} onChoose={(first) => setChosen(first === chosen ? undefined : first)} />
            {later.length > 0 && <button type="button" class="btn quiet" aria-expanded={all} onClick={() => setAll(!all)}>{t(all ? 'ahead.later.hide' : 'ahead.later')}</button>}
          </div>
          {week ? <WeekDetail key={week.first} week={week} draws={draws} which={which} needs={needs} /> : <p class="small ahead-hint">{t('ahead.week.hint')}</p>}
          <WeeksTable weeks={shown} />
        </div>
      )}
      {draws.n > 0 && draws.weeks.length > 0 && <WhichStems draws={draws} which={which} onChange={setWhich} />}
    </>
  )
}
