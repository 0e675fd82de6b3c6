// What an owner does with one plant: divide, move, take out, enter a seedling that came up beside it, or
// withdraw one that was entered by mistake. Of a seedling it is said that nobody knows its parents.

import { useState } from 'preact/hooks'
import { together } from '../crop/deed'
import { removedFacts } from '../crop/facts'
import { nowDone } from '../crop/intents'
import { takeOut } from '../crop/lineage'
import { recordedAt, withdrawPlant } from '../crop/mistakes'
import type { Day, Farm, Plant } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { seasonOf } from '../crop/season'
import { isSeedling, standsBeside } from '../crop/seedlings'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { codeOf } from '../ui/words'
import { DayField, dayFits } from './DayField'
import { DeedNote } from './DeedNote'
import './lineage.css'
import { type Doing, useDeed } from './use_deed'

export function PlantActions({ plant }: { readonly plant: Plant }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const doing = useDeed()
  return (
    <section class="plant-actions">
      {isSeedling(farm, plant) && <p>{seedlingText(farm, plant)}</p>}
      {may.manage && (
        <>
          <DeedNote {...doing} />
          {plant.removed === '' ? <Standing plant={plant} doing={doing} /> : doing.done === undefined && <Gone plant={plant} doing={doing} />}
          <Mistake farm={farm} plant={plant} doing={doing} />
        </>
      )}
    </section>
  )
}

function seedlingText(farm: Farm, plant: Plant): string {
  const foot = standsBeside(plant)
  return foot === '' ? t('lineage.seedling.said') : t('lineage.seedling.said.beside', { code: codeOf(farm, foot) })
}

interface ActionProps {
  readonly plant: Plant
  readonly doing: Doing
}

function Standing({ plant, doing }: ActionProps) {
  const notebook = useNotebook()
  const bed = bedOf(notebook.farm.value, plant)
  const [asking, setAsking] = useState(false)
  const takenOut = (day: Day) => {
    setAsking(false)
    void doing.act((now) => {
      const it = now.plants.get(plant.id) ?? plant
      const decided = nowDone(now, it.id, seasonOf(now.calendar, day), ['lift', 'replace'], day, notebook.person.peek())
      return { deed: together(takeOut([it], day), decided), said: t('lineage.out.done', { code: it.code, day: dayName(day, today.peek()) }) }
    })
  }
  if (asking) return <TakeOutForm plant={plant} onDay={takenOut} onCancel={() => setAsking(false)} />
  return (
    <div class="buttons">
      <a class="btn" href={href('beds', 'divide', plant.id)}>{t('lineage.divide')}</a>
      <a class="btn" href={href('beds', 'move', plant.id)}>{t('lineage.move')}</a>
      <button type="button" class="btn" onClick={() => setAsking(true)}>{t('lineage.out')}</button>
      <a class="btn" href={href('beds', 'seedling', plant.id)}>{t('lineage.seedling')}</a>
      {bed && <a class="btn" href={href('beds', 'tags', bed, plant.id)}>{t('tags.link.one')}</a>}
    </div>
  )
}

interface TakeOutFormProps {
  readonly plant: Plant
  readonly onDay: (day: Day) => void
  readonly onCancel: () => void
}

function TakeOutForm({ plant, onDay, onCancel }: TakeOutFormProps) {
  const [day, setDay] = useState(today.peek())
  const from = useNotebook().farm.value.plantings.get(plant.planting)?.planted ?? ''
  return (
    <form class="card" onSubmit={(event) => { event.preventDefault(); if (dayFits(day, from)) onDay(day) }}>
      <DayField name={t('lineage.out.day', { code: plant.code })} day={day} from={from} onDay={setDay} />
      <p class="small">{t('lineage.out.note')}</p>
      <div class="buttons">
        <button type="button" class="btn" onClick={onCancel}>{t('cancel')}</button>
        <button type="submit" class="btn" disabled={!dayFits(day, from)}>{t('lineage.out.do')}</button>
      </div>
    </form>
  )
}

/** One that was taken out by mistake stands again, whoever did it and whenever. */
function Gone({ plant, doing }: ActionProps) {
  const standsAgain = () => doing.act((now) => {
    const removed = now.plants.get(plant.id)?.removed ?? ''
    return { deed: { facts: removedFacts(plant.id, ''), undo: removedFacts(plant.id, removed) }, said: t('lineage.out.undone', { code: plant.code }) }
  })
  return <button type="button" class="btn" onClick={() => void standsAgain()}>{t('lineage.out.not')}</button>
}

/**
 * A plant at which something was recorded was there. Why it cannot be withdrawn is said of those that are entered
 * one by one; of a tray's plants, nearly all of which were recorded at, only the offer is shown.
 */
function Mistake({ farm, plant, doing }: ActionProps & { readonly farm: Farm }) {
  const recorded = recordedAt(farm, plant)
  const oneByOne = plant.parents.length > 0 || isSeedling(farm, plant)
  if (recorded) return oneByOne ? <p class="small">{t(`lineage.mistake.${recorded}`)}</p> : null
  const withdraw = () => doing.act(() => ({ deed: withdrawPlant(plant.id), said: t('lineage.mistake.done', { code: plant.code }) }))
  return <button type="button" class="btn quiet" onClick={() => void withdraw()}>{t('lineage.mistake')}</button>
}
