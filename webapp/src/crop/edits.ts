// Changing a bed or a stock: only the fields that differ are said, since the others may be changed at the
// same time on another device.

import type { Fact, Value } from '../log/change'
import type { Bed, BedID, Farm, PlantingID, Stock } from './nouns'
import { bedOf } from './places'

export function bedEdits(before: Bed, after: Bed): Fact[] {
  const fieldsOf = ({ name, length, width, lines }: Bed) => ({ name, length, width, lines })
  return edits('bed', before.id, fieldsOf(before), fieldsOf(after))
}

export function stockEdits(before: Stock, after: Stock): Fact[] {
  const fieldsOf = (s: Stock) => ({ name: s.name, species: s.species, origin: s.origin, protected: s.protected ? 1 : 0 })
  return edits('stock', before.id, fieldsOf(before), fieldsOf(after))
}

function edits(type: string, id: string, before: Readonly<Record<string, Value>>, after: Readonly<Record<string, Value>>): Fact[] {
  return Object.entries(after).flatMap(([field, value]) => {
    // A keyboard may compose an accent as two characters; changes carry NFC.
    const said = typeof value === 'string' ? value.normalize('NFC') : value
    return said === before[field] ? [] : [{ scope: 'field' as const, op: 'set' as const, type, id, field, value: said }]
  })
}

/**
 * What hinders taking a bed away: plants that stand in it, or a history that would lose its bed. A planting
 * that goes with it hinders nothing.
 */
export function holdsBed(farm: Farm, bed: BedID, going: PlantingID | '' = ''): 'plants' | 'history' | undefined {
  let history = [...farm.plantings.values()].some((one) => one.id !== going && one.bed === bed) || [...farm.events.values()].some((one) => one.bed === bed)
  for (const plant of farm.plants.values()) {
    if (going !== '' && plant.planting === going) continue
    if (bedOf(farm, plant) === bed) {
      if (plant.removed === '') return 'plants'
      history = true
    }
    if (plant.stood.some((stay) => stay.bed === bed)) history = true
  }
  return history || [...farm.visits.values()].some((one) => one.bed === bed) ? 'history' : undefined
}

/** The greatest line on which a plant stands in a bed; 0 where none does. */
export function lastLineUsed(farm: Farm, bed: BedID): number {
  let last = 0
  for (const plant of farm.plants.values()) {
    if (plant.removed === '' && bedOf(farm, plant) === bed) last = Math.max(last, plant.line)
  }
  return last
}
