// What a day's visits say: of each plant, of each bed, and of the farm. Read once for each state of
// the farm, from that day's visits alone, so that a tap costs the same in a farm's tenth season.

import { bedOfVisit, stemsIn, visitsOn } from '../crop/bed_day'
import type { BedID, Day, Farm, PlantID } from '../crop/nouns'
import { bedOf } from '../crop/places'

/** Nothing recorded, stems cut, or told to bear none. */
export interface DayState {
  readonly seen: boolean
  readonly stems: number
}

export interface DayView {
  readonly state: (plant: PlantID) => DayState
  /** Stems cut in a bed, plant by plant. */
  readonly ofBed: (bed: BedID) => number
  /** Plants of a bed that were seen, called out there or jumped to. */
  readonly seenIn: (bed: BedID) => number
  /** Stems cut in every bed, plant by plant. */
  readonly stems: number
}

const unseen: DayState = { seen: false, stems: 0 }

let lastRead: { readonly farm: Farm; readonly day: Day; readonly view: DayView } | undefined

export function viewOf(farm: Farm, day: Day): DayView {
  if (lastRead?.farm !== farm || lastRead.day !== day) lastRead = { farm, day, view: read(farm, day) }
  return lastRead.view
}

function read(farm: Farm, day: Day): DayView {
  const states = new Map<PlantID, DayState>()
  const beds = new Map<BedID, { stems: number; readonly seen: Set<PlantID> }>()
  let stems = 0
  for (const visit of visitsOn(farm, day)) {
    if (visit.plant === '') continue
    const before = states.get(visit.plant) ?? unseen
    const cut = visit.purpose === 'cut' ? stemsIn(visit) : 0
    const isSeen = visit.purpose === 'nothing' || cut > 0
    states.set(visit.plant, { seen: before.seen || isSeen, stems: before.stems + cut })
    stems += cut
    const bed = bedOfVisit(farm, visit)
    if (bed === undefined) continue
    const ofBed = beds.get(bed) ?? { stems: 0, seen: new Set() }
    ofBed.stems += cut
    if (isSeen) ofBed.seen.add(visit.plant)
    beds.set(bed, ofBed)
  }
  return {
    state: (plant) => states.get(plant) ?? unseen,
    ofBed: (bed) => beds.get(bed)?.stems ?? 0,
    seenIn: (bed) => beds.get(bed)?.seen.size ?? 0,
    stems,
  }
}

export function bedOfPlant(farm: Farm, id: PlantID): BedID | undefined {
  const plant = farm.plants.get(id)
  return plant && bedOf(farm, plant)
}
