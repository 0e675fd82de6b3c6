// Needs a look: plants that were cut twice on one day, where one may be a repeat.

import { useState } from 'preact/hooks'
import { repeatOf } from '../crop/repeats'
import { dayName, t } from '../messages/messages'
import { type Given, withAnswer, withoutAnswer } from '../ui/answers'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { type Answered, AnsweredNote, RepeatQuestion } from '../ui/RepeatQuestion'
import { today } from '../ui/today'

/** More than anybody settles at a sitting: sheets that were read in may bring thousands. */
const mostShown = 20

export function Repeats() {
  const { repeats, plants } = useNotebook().farm.value
  const [settled, setSettled] = useState<readonly Given<Answered>[]>([])
  if (repeats.size === 0 && settled.length === 0) return null
  const newestFirst = [...repeats].sort(([a], [b]) => (a < b ? 1 : -1))
  return (
    <section class="looks">
      <h2>{t('repeats.title', { n: repeats.size })}</h2>
      {settled.map(({ answer }) => <AnsweredNote key={answer.id} answered={answer} onUndone={() => setSettled((all) => withoutAnswer(all, answer))} />)}
      {newestFirst.slice(0, mostShown).map(([key, ids]) => {
        const { plant, day } = repeatOf(key)
        return (
          <details key={key} class="note warn repeat">
            <summary>
              <Icon name="warn" />
              <span>{t('repeat.at', { plant: plants.get(plant)?.code ?? t('repeat.plant'), day: dayName(day, today.value), n: ids.length })}</span>
            </summary>
            <RepeatQuestion ids={ids} onAnswered={(answered) => setSettled((all) => withAnswer(all, key, answered))} />
          </details>
        )
      })}
      {newestFirst.length > mostShown && <p class="small">{t('repeats.more', { n: newestFirst.length - mostShown })}</p>}
    </section>
  )
}
