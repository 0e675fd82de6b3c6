// At a plant that was cut twice today: a line that opens into the question whether one is a repeat.

import { useState } from 'preact/hooks'
import type { Day, PlantID, VisitID } from '../crop/nouns'
import { repeatKey } from '../crop/repeats'
import { t } from '../messages/messages'
import { answersTo, type Given, withAnswer, withoutAnswer } from './answers'
import { Icon } from './Icon'
import { useNotebook } from './notebook'
import { type Answered, AnsweredNote, RepeatQuestion } from './RepeatQuestion'

interface RepeatNoticeProps {
  readonly plant: PlantID
  readonly day: Day
}

export function RepeatNotice({ plant, day }: RepeatNoticeProps) {
  const farm = useNotebook().farm.value
  const [given, setGiven] = useState<readonly Given<Answered>[]>([])
  const key = repeatKey(plant, day)
  const ids = farm.repeats.get(key)
  return (
    <>
      {answersTo(given, key).map((answered) => <AnsweredNote key={answered.id} answered={answered} onUndone={() => setGiven((all) => withoutAnswer(all, answered))} />)}
      {ids !== undefined && <Notice ids={ids} onAnswered={(answered) => setGiven((all) => withAnswer(all, key, answered))} />}
    </>
  )
}

function Notice({ ids, onAnswered }: { readonly ids: readonly VisitID[]; readonly onAnswered: (answered: Answered) => void }) {
  return (
    <details class="note warn repeat" onToggle={(event) => event.currentTarget.open && event.currentTarget.scrollIntoView({ block: 'nearest' })}>
      <summary><Icon name="warn" />{t('repeat.notice', { n: ids.length })}</summary>
      <RepeatQuestion ids={ids} onAnswered={onAnswered} />
    </details>
  )
}
