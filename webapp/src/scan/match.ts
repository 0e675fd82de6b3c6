// The plant that a tag's code stands for. Codes are told apart as they are written; where none is the
// same, capitals and spaces are not looked at, since a tag may have been copied by hand.

import type { Farm, Plant } from '../crop/nouns'

/** The plants of a code, those that stand first: several where the farm gave it twice, none where nobody has it. */
export function plantsOf(farm: Pick<Farm, 'plants'>, text: string): Plant[] {
  const plants = [...farm.plants.values()]
  const exact = plants.filter((plant) => plant.code === text)
  if (exact.length > 0) return standingFirst(exact)
  const wanted = folded(text)
  return wanted === '' ? [] : standingFirst(plants.filter((plant) => folded(plant.code) === wanted))
}

function folded(code: string): string {
  return code.normalize('NFC').replace(/\s+/gu, '').toUpperCase()
}

function standingFirst(plants: readonly Plant[]): Plant[] {
  return plants.toSorted((a, b) => Number(a.removed !== '') - Number(b.removed !== ''))
}
