// A walk through a bed that was begun and neither ended nor closed: what nobody touched would stay untold.

import { seasonOf } from '../crop/season'
import type { BedID, Day, Farm } from '../crop/nouns'
import { countedOn, standingIn } from '../crop/standing'
import { viewOf } from '../row/day'
import type { Position } from '../row/steps'

export interface OpenWalk {
  readonly bed: BedID
  readonly day: Day
  /** Counted plants that nobody saw on that day. */
  readonly plants: number
}

/** Of a bed that was only opened nothing is left: a walk is begun with its first plant. */
export function openWalk(farm: Farm, position: Position | undefined): OpenWalk | undefined {
  if (!position || !farm.beds.has(position.bed)) return undefined
  const { bed, day } = position
  const view = viewOf(farm, day)
  if (view.seenIn(bed) === 0) return undefined
  const season = seasonOf(farm.calendar, day)
  const plants = standingIn(farm, bed, day).filter((plant) => countedOn(plant, season, day) && !view.state(plant.id).seen).length
  return plants > 0 ? { bed, day, plants } : undefined
}
