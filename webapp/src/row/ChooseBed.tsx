// Which bed is walked: those with counted plants first.

import { t } from '../messages/messages'
import { seasonOf } from '../crop/season'
import { BedTasksLine } from '../ui/BedTasks'
import { EmptyFarm } from '../ui/EmptyFarm'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { ReentryWarning } from '../ui/ReentryWarning'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { WorkEntry } from '../work/WorkEntry'
import { viewOf } from './day'
import { CutsEntry } from './CutsEntry'
import { DivideEntry } from './DivideEntry'
import type { Session } from './session'
import { type BedToWalk, bedsToWalk } from './walk'
import { WalksLink } from './WalksLink'

export function ChooseBed({ session }: { readonly session: Session }) {
  const farm = useNotebook().farm.value
  const beds = bedsToWalk(farm, seasonOf(farm.calendar, today.value), today.value)
  const counted = beds.filter((one) => one.counted.length > 0)
  const others = beds.filter((one) => one.counted.length === 0)
  return (
    <>
      <PageHead title={t('row.choose')}><SyncChip /></PageHead>
      <div class="page reading">
        {farm.beds.size === 0 && <EmptyFarm />}
        {beds.length > 0 && <CutsEntry />}
        <DivideEntry />
        <WorkEntry from="row" />
        {beds.length > 0 && counted.length === 0 && <p class="say">{t('row.none')}</p>}
        {counted.length > 0 && others.length > 0 && <WhatIs of="counted"><h2>{t('walk.beds.counted')}</h2></WhatIs>}
        <Beds session={session} beds={counted} />
        {counted.length > 0 && others.length > 0 && <h2>{t('walk.beds.all')}</h2>}
        <Beds session={session} beds={others} />
        <div class="buttons">
          <a class="btn tall" href={href('beds')}>{t('row.to_beds')}</a>
          {beds.length > 0 && <a class="btn tall" href={href('row', 'measure')}><Icon name="camera" />{t('measuring.scan')}</a>}
          <a class="btn tall" href={href('row', 'care')}><Icon name="care" />{t('care.title')}</a>
        </div>
      </div>
    </>
  )
}

function Beds({ session, beds }: { readonly session: Session; readonly beds: readonly BedToWalk[] }) {
  if (beds.length === 0) return null
  return <ul class="rows with-walks">{beds.map((one) => <BedLine key={one.bed.id} session={session} {...one} />)}</ul>
}

function BedLine({ session, bed, standing, counted }: BedToWalk & { readonly session: Session }) {
  const { state } = viewOf(useNotebook().farm.value, today.value)
  const left = counted.filter((plant) => !state(plant.id).seen).length
  const all = counted.length === 0 || session.ways.of(bed.id).whom === 'all'
  return (
    <li>
      <button type="button" class="line plain tall" onClick={() => session.open(bed.id)}>
        <span>
          <b>{bed.name}</b>
          <span class="small block">{all ? t('walk.bed.all', { n: standing }) : t('row.bed.plants', { n: counted.length })}</span>
        </span>
        {counted.length > 0 && <span class="n">{left === 0 ? <Icon name="check" /> : t('row.bed.left', { n: left })}</span>}
      </button>
      <WalksLink bed={bed} />
      <BedTasksLine bed={bed.id} />
      <ReentryWarning bed={bed.id} />
    </li>
  )
}
