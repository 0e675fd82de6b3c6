// What is to be divided, lifted and replaced, bed by bed in the order of the walk, and what to take care of.

import { useMemo, useState } from 'preact/hooks'
import { doneIn, type ToDo, toDoIn } from '../crop/intents'
import type { PlantID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { listed, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import './divide-walk.css'
import { DivideLine } from './DivideLine'
import { bedsOf, DivideLater, openOf } from './divide_walk'

export function DivideWalk() {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const season = seasonOf(farm.calendar, today.value)
  const todo = useMemo(() => toDoIn(farm, season), [farm.ahead, farm.groundVersion, season])
  const done = useMemo(() => doneIn(farm, season).length, [farm.ahead, season])
  const later = DivideLater.of(notebook)
  const doing = useUndoable()
  const [asked, setAsked] = useState<PlantID | '' | undefined>(undefined)
  const open = openOf(todo, asked, (plant) => later.has(plant))
  return (
    <>
      <PageHead title={t('division.walk')} back={href('row')}><SyncChip /></PageHead>
      <div class="page reading divide-walk">
        <Sum todo={todo} done={done} />
        {todo.length > 0 && <Care />}
        {bedsOf(todo).map(({ bed, todo: its }) => (
          <section key={bed} class="card divide-bed">
            <h2>{(bed !== '' && farm.beds.get(bed)?.name) || t('bed.unknown')}</h2>
            <ul>
              {its.map((one) => (
                <DivideLine
                  key={one.plant.id} todo={one} open={one.plant.id === open} later={later} doing={doing}
                  onOpen={(on) => setAsked(on ? one.plant.id : '')} onDone={() => setAsked(undefined)}
                />
              ))}
            </ul>
          </section>
        ))}
        <div class="divide-said"><UndoNote {...doing} /></div>
      </div>
    </>
  )
}

function Sum({ todo, done }: { readonly todo: readonly ToDo[]; readonly done: number }) {
  const may = useRights()
  const left = todo.filter(({ is }) => is === 'open')
  const toEnter = todo.length - left.length
  const kinds = (['divide', 'replace', 'lift'] as const).flatMap((what) => {
    const n = left.filter(({ intent }) => intent.do === what).length
    return n === 0 ? [] : [t(`division.walk.sum.${what}`, { n })]
  })
  return (
    <div>
      <p class="say">{left.length > 0 ? t('division.walk.left', { n: left.length, kinds: listed(kinds) }) : t(done > 0 || toEnter > 0 ? 'division.walk.all_done' : 'division.walk.nothing')}</p>
      {done > 0 && <p class="small">{t('division.walk.done', { n: done })}</p>}
      {toEnter > 0 && <p class="note">{t(may.manage ? 'division.walk.to_enter' : 'division.walk.to_enter.crew', { n: toEnter })}</p>}
      {todo.length === 0 && done === 0 && may.manage && <a class="btn" href={href('ahead', 'division')}>{t('division.walk.plan')}</a>}
    </div>
  )
}

const cares = ['sap', 'lifting', 'blades', 'heat', 'rules'] as const

function Care() {
  return (
    <details class="note divide-care">
      <summary><Icon name="care" /><span>{t('division.care')}</span></summary>
      <ul class="reasons">{cares.map((one) => <li key={one}>{t(`division.care.${one}`)}</li>)}</ul>
      <a class="own-line" href={href('row', 'care')}>{t('care.title')}</a>
    </details>
  )
}
