// The stock and planting that divisions and seedlings belong to: the farm's own where it has them, else new
// ones that are named after the stock they came of.

import { v4 as newUUID } from 'uuid'
import { type Ground, plantingLike, stockFrom, stockOf } from '../crop/lineage'
import type { BedID, Day, Farm, Plant, PlantingID, Season, Stock, StockID } from '../crop/nouns'
import { t } from '../messages/messages'
import { Hindered } from './use_deed'

export type CameBy = 'division' | 'self_sown'

/** As which stock what came of another is entered, and whether the farm has it already. */
export function stockOfNew(farm: Farm, from: Stock, by: CameBy): { readonly stock: Stock; readonly isNew: boolean } {
  // A division of divisions is of the same stock; a second name for it would tell apart what is one.
  const has = from.origin === by && by === 'division' && from.from !== '' ? from : stockFrom(farm, from, by)
  if (has) return { stock: has, isNew: false }
  const name = t(`lineage.stock.${by}`, { name: from.name })
  return { stock: { id: newUUID() as StockID, name, species: from.species, origin: by, protected: false, from: from.id }, isNew: true }
}

export function groundFor(farm: Farm, parent: Plant, by: CameBy, bed: BedID, planted: Day, firstSeason: Season): Ground {
  const from = stockOf(farm, parent)
  if (!from) throw new Hindered(t('lineage.stock.unknown', { code: parent.code }))
  const { stock } = stockOfNew(farm, from, by)
  const like = plantingLike(farm, stock.id, bed, planted, firstSeason)
  return { stock, planting: like ?? { id: newUUID() as PlantingID, stock: stock.id, bed, planted, firstSeason } }
}
