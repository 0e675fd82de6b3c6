// What was worked day by day, each entry to be put right or taken away.

import { useState } from 'preact/hooks'
import type { Work, WorkID } from '../crop/money_nouns'
import type { Day } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { clockOf } from './timer'
import { kindWord } from './work_timer'
import { mayPutRight, workedOn } from './worked'
import { WorkForm } from './WorkForm'

export function WorkedDays({ days, doing }: { readonly days: readonly Day[]; readonly doing: Undoable }) {
  const { money, people } = useNotebook().farm.value
  const [open, setOpen] = useState<WorkID | undefined>(undefined)
  const nameOf = ({ person }: Work) => (person === '' ? '' : people.get(person)?.name ?? '')
  return (
    <>
      {workedOn(money, days, nameOf).map(({ day, work, minutes }) => (
        <section key={day} class="worked-day">
          <h2><span>{dayName(day, today.value)}</span>{work.length > 0 && <span class="num">{t('work.sum', { time: clockOf(minutes) })}</span>}</h2>
          {work.length === 0 && <p class="small">{t('work.none')}</p>}
          <ul class="rows">
            {work.map((one) => (
              <li key={one.id}>
                {open === one.id
                  ? <WorkForm before={one} doing={doing} onDone={() => setOpen(undefined)} />
                  : <WorkRow work={one} name={nameOf(one)} onOpen={() => setOpen(one.id)} />}
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  )
}

function WorkRow({ work, name, onOpen }: { readonly work: Work; readonly name: string; readonly onOpen: () => void }) {
  const notebook = useNotebook()
  const { beds, sales } = notebook.farm.value
  const bed = work.bed === '' ? '' : beds.get(work.bed)?.name ?? ''
  const channel = work.channel === '' ? '' : sales.channels.get(work.channel)?.name ?? ''
  const about = [name, bed, channel, work.note].filter((part) => part !== '').join(' · ')
  const content = (
    <>
      <span><b>{kindWord(work.kind)}</b>{about !== '' && <span class="small block">{about}</span>}</span>
      <span class="n">{clockOf(work.minutes)}</span>
    </>
  )
  if (!mayPutRight(notebook.member.value, work)) return <div class="line plain">{content}</div>
  return <button type="button" class="line plain" onClick={onOpen}>{content}</button>
}
