// Why a plant is not divided or moved. There is no way past it but putting right what hinders.

import { protectedStock } from '../crop/lineage'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import type { PlantActionProps } from './PlantActionPage'

interface StoppedProps extends PlantActionProps {
  readonly why: 'protected' | 'unknown' | 'gone'
}

export function Stopped({ plant, why }: StoppedProps) {
  const stock = protectedStock(useNotebook().farm.value, plant)
  return (
    <div class="note stop" role="alert">
      <p><b>{t(`lineage.stop.${why}`, { code: plant.code, stock: stock?.name ?? t('stock.unknown') })}</b></p>
      <p>{t(`lineage.stop.${why}.why`)}</p>
    </div>
  )
}
