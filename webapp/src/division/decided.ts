// The plan as it stands: the shed's answer with what the grower changed of it by hand, plant by plant and bed by bed.

import { type IntentDo, intentDos } from '../crop/ahead_nouns'
import type { BedID, Farm, Plant, PlantID } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { inWalkOrder } from '../crop/walk_order'
import type { Action, DivisionAnswer } from './division_answer'
import type { ByHand } from './division_plan'

export interface Decided {
  readonly plant: Plant
  readonly do: IntentDo
  /** 0 where it is not divided. */
  readonly into: number
  readonly byHand: boolean
  /** What the shed planned. */
  readonly action: Action
}

/** Of plants that stand; others went since the shed planned. */
export function decidedOf(farm: Farm, answer: DivisionAnswer, hand: Readonly<Record<PlantID, ByHand>>): Decided[] {
  return answer.actions.flatMap((action) => {
    const plant = farm.plants.get(action.plant)
    if (!plant || plant.removed !== '') return []
    const own = hand[action.plant]
    return [{ plant, action, do: own?.do ?? action.do, into: own ? own.into : action.into ?? 0, byHand: own !== undefined }]
  })
}

export type Counts = Readonly<Record<IntentDo, number>>

export function countsOf(decided: readonly Decided[]): Counts {
  const counts = { keep: 0, divide: 0, lift: 0, replace: 0 }
  for (const { do: what } of decided) counts[what]++
  return counts
}

export interface DecidedBed {
  readonly bed: BedID | ''
  readonly groups: readonly { readonly do: IntentDo; readonly plants: readonly Decided[] }[]
}

/** What is done first, then what is kept. */
const shownOrder: readonly IntentDo[] = ['divide', 'replace', 'lift', 'keep']

/** Beds by name, in each what is done folded by what it is, in walk order. */
export function byBed(farm: Farm, decided: readonly Decided[]): DecidedBed[] {
  const beds = new Map<BedID | '', Map<PlantID, Decided>>()
  for (const one of decided) {
    const bed = bedOf(farm, one.plant) ?? ''
    beds.set(bed, (beds.get(bed) ?? new Map<PlantID, Decided>()).set(one.plant.id, one))
  }
  const name = (bed: BedID | '') => (bed === '' ? '' : farm.beds.get(bed)?.name ?? '')
  return [...beds].sort(([a], [b]) => name(a).localeCompare(name(b), undefined, { numeric: true })).map(([bed, plants]) => ({
    bed,
    groups: shownOrder.flatMap((what) => {
      const those = inWalkOrder([...plants.values()].filter((one) => one.do === what).map(({ plant }) => plant))
      return those.length === 0 ? [] : [{ do: what, plants: those.flatMap(({ id }) => plants.get(id) ?? []) }]
    }),
  }))
}

/** Divisions more than plants divided, which take places of their own. */
export function placesOf(decided: readonly Decided[]): number {
  return decided.reduce((sum, { do: what, into }) => sum + (what === 'divide' ? into - 1 : what === 'lift' ? -1 : 0), 0)
}

export interface AgeRule {
  /** What the plan does, what the rule does, and how often they differ so. */
  readonly plan: IntentDo
  readonly rule: IntentDo
  readonly plants: number
  /** What the rule would bring less, in all. */
  readonly cents: number
}

/** Where the plan differs from replanting after the third season, the dearest difference first. */
export function againstAgeRule(actions: readonly Action[]): AgeRule[] {
  const found = new Map<string, AgeRule>()
  for (const { do: plan, by_age: rule } of actions) {
    if (!rule) continue
    const key = `${plan} ${rule.do}`
    const before = found.get(key)
    found.set(key, { plan, rule: rule.do, plants: (before?.plants ?? 0) + 1, cents: (before?.cents ?? 0) + rule.gives_up_cents })
  }
  return [...found.values()].sort((a, b) => b.cents - a.cents || intentDos.indexOf(a.plan) - intentDos.indexOf(b.plan))
}
