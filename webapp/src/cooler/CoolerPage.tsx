// What lies in the cooler: lots by how long they keep, what is due of it, and what is past.

import { useState } from 'preact/hooks'
import { byLife, cooler, type Lot, stemsLeft } from '../crop/cooler'
import { addDays } from '../crop/day'
import { stillDue } from '../crop/due_ahead'
import { lotCell } from '../crop/lots'
import type { Day, Farm } from '../crop/nouns'
import { tallyOf } from '../crop/tally'
import { count, dayName, listed, t } from '../messages/messages'
import { ByColour } from '../ui/ByColour'
import { inTens } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { StemTally } from '../ui/StemTally'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { WhatIs } from '../ui/WhatIs'
import { CoolerCare } from './CoolerCare'
import { LotRow } from './LotRow'
import { PastLots } from './PastLots'
import { WrittenOffLately } from './WrittenOffLately'

/** So many days ahead what is due stands beside what is there. */
const daysAhead = 3

export function CoolerPage() {
  const farm = useNotebook().farm.value
  const doing = useUndoable()
  const held = cooler(farm, today.value)
  const { fresh, past, gone } = byLife(held)
  const over = held.filter(({ left }) => left < 0).length
  return (
    <div class="cooler">
      <PageHead title={t('cooler.title')} back={href('shed')}>
        <a class="btn" href={href('shed', 'claims')}>{t('claims.title')}</a>
      </PageHead>
      <div class="page">
        <div class="columns">
          <div>
            <Lead farm={farm} fresh={fresh} day={today.value} />
            {over > 0 && <p class="note warn">{t('cooler.over', { n: over })} <a href={href('shed')}>{t('cooler.over.where')}</a></p>}
            <UndoNote {...doing} />
            <PastLots past={past} doing={doing} />
            {gone.length > 0 && <p class="small">{t('past.gone', { n: gone.length, stems: t('stems', { n: stemsLeft(gone) }) })}</p>}
            <ByLife farm={farm} lots={fresh} doing={doing} />
          </div>
          <div>
            <CoolerCare />
            {fresh.length > 0 && <h2>{t('cooler.sums')}</h2>}
            <StemTally farm={farm} tally={tallyOf(fresh.map(({ id, left }) => ({ colour: id.colour, grade: id.grade, length: id.length, stems: left })))} />
            <WrittenOffLately />
          </div>
        </div>
      </div>
    </div>
  )
}

function Lead({ farm, fresh, day }: { readonly farm: Farm; readonly fresh: readonly Lot[]; readonly day: Day }) {
  const stems = stemsLeft(fresh)
  return (
    <>
      <Say text={stems === 0 ? t('cooler.none') : t('cooler.say', { n: stems, tens: inTens(stems) })} />
      <p>{dueText(farm, day)}</p>
    </>
  )
}

/** What is still to be packed, in one line. */
function dueText(farm: Farm, day: Day): string {
  const days = stillDue(farm.sales, day, addDays(day, daysAhead))
  if (days.length === 0) return t('cooler.due.none', { n: daysAhead })
  return t('cooler.due', { days: listed(days.map((due) => t(due.day < day ? 'cooler.due.over' : 'cooler.due.day', { stems: count(due.stems), day: dayName(due.day, day) }))) })
}

/** Lots by the days that they keep, those that keep shortest first. */
function ByLife({ farm, lots, doing }: { readonly farm: Farm; readonly lots: readonly Lot[]; readonly doing: Undoable }) {
  const [open, setOpen] = useState('')
  const lives = [...new Set(lots.map(({ daysLeft }) => daysLeft))].sort((a, b) => a - b)
  return (
    <>
      {lots.length > 0 && <WhatIs of="lot"><p class="small">{t('cooler.tap')}</p></WhatIs>}
      {lives.map((life) => {
        const those = lots.filter(({ daysLeft }) => daysLeft === life)
        return (
          <section key={life}>
            <h2>{lifeText(life)} <span class="small">{t('stems', { n: stemsLeft(those) })}</span></h2>
            <ByColour farm={farm} of={those} colour={({ id }) => id.colour} stems={({ left }) => left} row={(lot) => {
              const cell = lotCell(lot.id)
              return <LotRow key={cell} lot={lot} open={open === cell} doing={doing} onToggle={() => setOpen(open === cell ? '' : cell)} />
            }} />
          </section>
        )
      })}
    </>
  )
}

/** "Last day", "1 day left", "4 days left". */
function lifeText(daysLeft: number): string {
  return daysLeft === 0 ? t('life.last') : t('life.left', { n: daysLeft })
}
