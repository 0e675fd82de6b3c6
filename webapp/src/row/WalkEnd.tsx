// The end of a walk: what it gave, the counted plants that nobody touched, by name, and closing the
// bed with one tap.

import type { Bed, BedID } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { useAnswers } from './answers'
import { type DayView, viewOf } from './day'
import { useEndKeys } from './keys'
import { LastAction } from './LastAction'
import { PlantRows } from './PlantRows'
import type { Session } from './session'

interface WalkEndProps {
  readonly session: Session
  readonly bed: Bed
}

export function WalkEnd({ session, bed }: WalkEndProps) {
  const view = viewOf(useNotebook().farm.value, today.value)
  useAnswers(session)
  useEndKeys(session)
  const untouched = session.untouched(bed.id)
  const leave = () => session.close()
  return (
    <>
      <PageHead title={bed.name}><SyncChip /></PageHead>
      <div class="page reading walk-end">
        <Say text={endText(view, bed.id)} />
        <LastAction session={session} />
        {untouched.length > 0 && (
          <section>
            <p class="note warn">{t('row.end.untouched', { n: untouched.length })}</p>
            <WhatIs of="nothing" />
            <PlantRows session={session} bed={bed.id} order={untouched} at="" onChoose={(plant) => session.jump(plant)} />
          </section>
        )}
        <a class="btn tall" href={href('row', 'plants')}>{t('row.list')}</a>
        <div class="act two">
          {untouched.length > 0 && <button type="button" class="btn tall" onClick={leave}>{t('row.other_bed')}</button>}
          {untouched.length > 0
            ? <button type="button" class="btn main" onClick={() => void session.closeBed(bed.id)}>{t('close.sure', { n: untouched.length })}</button>
            : <button type="button" class="btn main" onClick={leave}>{t('row.other_bed')}</button>}
        </div>
      </div>
    </>
  )
}

/** What the day's walk gave: of plants that were jumped to as of those that were called out, as the bed's total is. */
export function endText(view: DayView, bed: BedID): string {
  return t('row.end', { n: view.ofBed(bed), plants: t('plants', { n: view.seenIn(bed) }) })
}
