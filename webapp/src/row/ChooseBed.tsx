// Which bed is walked: beds with counted plants first.

import type { Bed } from '../crop/nouns'
import { t } from '../messages/messages'
import { EmptyFarm } from '../ui/EmptyFarm'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import type { Session } from './session'
import { dayStateOf } from './walk'

export function ChooseBed({ session }: { readonly session: Session }) {
  const farm = useNotebook().farm.value
  const beds = [...farm.beds.values()].map((bed) => ({ bed, order: session.order(bed.id) }))
  beds.sort((a, b) =>
    Number(b.order.length > 0) - Number(a.order.length > 0) || a.bed.name.localeCompare(b.bed.name, undefined, { numeric: true }))
  const counted = beds.filter(({ order }) => order.length > 0)
  return (
    <>
      <PageHead title={t('row.choose')}><SyncChip /></PageHead>
      <div class="page reading">
        {beds.length === 0 && <EmptyFarm />}
        {beds.length > 0 && counted.length === 0 && <p class="say">{t('row.none')}</p>}
        <ul class="rows">
          {counted.map(({ bed, order }) => {
            const left = order.filter((plant) => !dayStateOf(farm, plant.id, today.value).seen).length
            return <BedLine key={bed.id} bed={bed} total={order.length} left={left} onOpen={() => session.open(bed.id)} />
          })}
        </ul>
        <div class="buttons">
          <a class="btn tall" href={href('beds')}>{t('row.to_beds')}</a>
          <a class="btn tall" href={href('row', 'care')}><Icon name="care" />{t('care.title')}</a>
        </div>
        {beds.length > counted.length && counted.length > 0 && (
          <p class="small">{t('row.uncounted', { n: beds.length - counted.length })}</p>
        )}
      </div>
    </>
  )
}

interface BedLineProps {
  readonly bed: Bed
  readonly total: number
  readonly left: number
  readonly onOpen: () => void
}

function BedLine({ bed, total, left, onOpen }: BedLineProps) {
  return (
    <li>
      <button type="button" class="line plain tall" onClick={onOpen}>
        <span><b>{bed.name}</b><span class="small block">{t('row.bed.plants', { n: total })}</span></span>
        <span class="n">{left === 0 ? <Icon name="check" /> : t('row.bed.left', { n: left })}</span>
      </button>
    </li>
  )
}
