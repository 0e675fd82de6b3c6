// Two growers who divide, move, take out, count and settle on phones that miss each other, for the
// property test of what is known of plants. Every operation carries two marks of its own, so that what
// somebody had seen is told without looking at how moves and divisions are written.

import type { Deed } from '../../crop/deed'
import { bringBack, bringBackGround, leaveOutVisits, withdrawPlant } from '../../crop/mistakes'
import { bedFacts, codeFacts, plantFacts, plantingFacts, removedFacts, stockFacts, visitFacts, withdrawnFact, type EntityType } from '../../crop/facts'
import { type Child, divide, mayDivide, move, type Parent, plantingLike, settlePlace, stockFrom, stockOf, takeOut, undoing } from '../../crop/lineage'
import { LiveFarm } from '../../crop/live'
import { plantLooks } from '../../crop/looks'
import type { BedID, Day, Farm, FarmID, Place, Plant, PlantID, PlantLook, Season, Visit, VisitID } from '../../crop/nouns'
import { bedOf, placeKey } from '../../crop/places'
import { takenPlaces } from '../../crop/planting_out'
import { bedWith, plantingWith, plantWith, stockWith, visitWith } from '../../crop/testing/nouns'
import type { Fact } from '../../log/change'
import { looksOf } from '../../log/look'
import { heal, Phone } from './phone'
import { ShedModel } from './shed_model'

export const farmID = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'

/** What one of them does next, or what happens on the way; numbers choose among what there is. */
export interface Step {
  readonly does: 'divide' | 'move' | 'take_out' | 'undo' | 'withdraw' | 'count' | 'settle' | 'deliver' | 'wait' | 'cut' | 'meet'
  readonly who: number
  readonly which: number
  readonly how: number
}

/** What was said of a plant's place, and what its maker had seen by then. */
export interface Told {
  readonly name: string
  readonly plant: PlantID
  /** Where to, as `placeKey`; of a settling, which move it kept. */
  readonly to: string
  readonly kind: 'move' | 'settling'
  readonly saw: ReadonlySet<string>
  undone: boolean
}

export interface Division {
  readonly parent: PlantID
  readonly children: readonly PlantID[]
}

interface Grower {
  readonly phone: Phone
  /** What can still be undone, the last last. */
  readonly deeds: { readonly deed: Deed; readonly told: Told | undefined }[]
}

const beds = ['b1', 'b2'] as BedID[]
const day = '2026-05-04' as Day
/** So few places that people meet in them. */
const everyPlace: readonly Place[] = beds.flatMap((bed) => [1, 2].flatMap((line) => [1, 2, 3, 4].map((number) => ({ bed, line, number }))))

export class Growers {
  readonly time = { now: 0 }
  readonly shed = new ShedModel(farmID, 'epoch 1', 1_780_000_000_000)
  readonly told: Told[] = []
  readonly divisions: Division[] = []
  readonly counts: { readonly plant: PlantID; readonly visit: VisitID }[] = []
  private readonly growers: readonly Grower[] = [0, 1].map((i) => ({ phone: new Phone(`p${i}`, this.shed, this.time), deeds: [] }))
  /** Every operation, by its name. */
  private readonly operations: string[] = []
  private made = 0

  constructor() {
    this.growers[0]?.phone.record(
      ...beds.flatMap((id) => bedFacts(bedWith({ id }))), ...stockFacts(stockWith()), ...plantingFacts(plantingWith({ bed: 'b1' as BedID })),
      ...[1, 2, 3].flatMap((number) => plantFacts(plantWith({ id: `k${number}` as PlantID, code: `K${number}`, line: 1, number }))),
    )
    this.heal()
  }

  get phones(): Phone[] {
    return this.growers.map(({ phone }) => phone)
  }

  heal(): void {
    heal(this.phones, this.time, this.shed)
  }

  farmAtShed(): Farm {
    return farmOf(this.shed.state())
  }

  take({ does, who, which, how }: Step): void {
    const grower = this.growers[who % this.growers.length]
    if (!grower) return
    if (does === 'deliver') for (let i = 0; i <= which % 5; i++) { if (how % 2 === 0) grower.phone.carryUp(); else grower.phone.carryDown() }
    else if (does === 'wait') this.wait(which % 3)
    else if (does === 'cut') grower.phone.cut()
    else if (does === 'meet') this.heal()
    else if (this.seesWhole(grower)) this.act(grower, does, which, how)
  }

  private wait(seconds: number): void {
    this.time.now += 400 + 1000 * seconds
    this.shed.wall += 400 + 1000 * seconds
    for (const phone of this.phones) phone.happen({ kind: 'tick' })
  }

  /** An operation may be half here; what its reader knows of it cannot be told, so nothing is done just then. */
  private seesWhole({ phone }: Grower): boolean {
    return this.operations.every((name) => {
      const mark = phone.book.entity('mark', name)
      return mark === undefined || mark.slots.size === 2
    })
  }

  private act(grower: Grower, does: Step['does'], which: number, how: number): void {
    const farm = farmOf(grower.phone.book.entities())
    const plant = nth([...farm.plants.values()].filter(({ removed }) => removed === ''), which)
    if (does === 'undo') this.undo(grower, farm)
    else if (does === 'settle') this.settle(grower, farm, which, how)
    else if (!plant || bedOf(farm, plant) === undefined) return
    else if (does === 'divide') this.divide(grower, farm, plant, how)
    else if (does === 'move') this.move(grower, farm, plant, how)
    else if (does === 'take_out') this.doing(grower, takeOut([plant], day))
    else if (does === 'withdraw') this.doing(grower, withdrawPlant(plant.id))
    else if (does === 'count') this.count(grower, plant)
  }

  private move(grower: Grower, farm: Farm, plant: Plant, how: number): void {
    const to = nth(freePlaces(farm), how)
    if (!to) return
    const told = this.tell(grower, plant.id, 'move', placeKey(to))
    this.doing(grower, move(farm, plant, to, day, told.name), told)
  }

  private divide(grower: Grower, farm: Farm, plant: Plant, how: number): void {
    const stock = stockOf(farm, plant)
    const [to, ...others] = freePlaces(farm).slice(how % 3)
    if (!stock || !to || mayDivide(farm, plant) !== 'yes') return
    const places = others.filter(({ bed }) => bed === to.bed).slice(0, 2)
    const children = places.map((place): Child => ({ id: this.name('child') as PlantID, code: this.name('C'), place }))
    if (children.length === 0) return
    const its = stockFrom(farm, stock, 'division') ?? stockWith({ id: this.name('s') as typeof stock.id, name: 'divided', origin: 'division', from: stock.id })
    const like = plantingLike(farm, its.id, to.bed, day, 2026 as Season)
    const planting = like ?? plantingWith({ id: this.name('g') as Plant['planting'], stock: its.id, bed: to.bed, planted: day })
    const told = how % 3 === 1 ? this.tell(grower, plant.id, 'move', placeKey(to)) : undefined
    const becomes: Parent = told ? { becomes: 'moved', to, named: told.name } : { becomes: how % 3 === 0 ? 'kept' : 'taken_out' }
    this.divisions.push({ parent: plant.id, children: children.map(({ id }) => id) })
    this.doing(grower, divide(farm, plant, children, { planting, stock: its }, becomes), told)
  }

  private count(grower: Grower, plant: Plant): void {
    const visit: Visit = visitWith({ id: this.name('v') as VisitID, plant: plant.id, date: day })
    this.counts.push({ plant: plant.id, visit: visit.id })
    this.record(grower, [...visitFacts(visit), { scope: 'field', op: 'count', type: 'visit', id: visit.id, field: '|0|0', value: 3 }])
  }

  private undo(grower: Grower, farm: Farm): void {
    const last = grower.deeds.pop()
    if (!last) return
    if (last.told) last.told.undone = true
    this.record(grower, undoing(farm, last.deed))
  }

  private settle(grower: Grower, farm: Farm, which: number, how: number): void {
    const withdrawals = [...grower.phone.book.entities()].flatMap(looksOf).filter(({ kind }) => kind === 'withdrawn')
    const looks = [...withdrawals, ...plantLooks(farm)]
    const look = nth(looks, which)
    if (!look) return
    if ('plants' in look) this.settlePlants(grower, farm, look, how)
    else this.record(grower, [withdrawnFact(look.type as EntityType, look.id, how % 2 === 0)])
  }

  private settlePlants(grower: Grower, farm: Farm, { kind, plants }: PlantLook, how: number): void {
    const id = nth(plants, how)
    const plant = id === undefined ? undefined : farm.plants.get(id)
    if (kind === 'counted_withdrawn' && id !== undefined) return this.record(grower, how % 2 === 0 ? bringBack(farm, id) : leaveOutVisits(farm, id))
    if (!plant) return
    if (kind === 'no_planting') return this.record(grower, bringBackGround(farm, plant.planting))
    if (kind === 'same_code') return this.record(grower, codeFacts(plant.id, this.name('C')))
    if (kind === 'shared_place') return how % 2 === 0 ? this.move(grower, farm, plant, how) : this.record(grower, removedFacts(plant.id, day))
    const kept = nth(plant.places, how)
    if (!kept) return
    const facts = settlePlace(plant, kept)
    this.tell(grower, plant.id, 'settling', kept.move)
    this.record(grower, facts)
  }

  private tell({ phone }: Grower, plant: PlantID, kind: Told['kind'], to: string): Told {
    const saw = new Set(this.operations.filter((name) => phone.book.entity('mark', name)))
    const told: Told = { name: this.name('o'), plant, kind, to, saw, undone: false }
    this.told.push(told)
    return told
  }

  private doing(grower: Grower, deed: Deed, told?: Told): void {
    grower.deeds.push({ deed, told })
    this.record(grower, deed.facts, told?.name)
  }

  private record({ phone }: Grower, facts: readonly Fact[], told = this.told.at(-1)?.name): void {
    if (facts.length === 0) return
    // A settling was told just before; anything else bears a name of its own.
    const name = told !== undefined && !this.operations.includes(told) ? told : this.name('o')
    this.operations.push(name)
    phone.record(mark(name, 'begun'), ...facts, mark(name, 'done'))
  }

  private name(of: string): string {
    return `${of}${++this.made}`
  }
}

function mark(name: string, field: string): Fact {
  return { scope: 'field', op: 'set', type: 'mark', id: name, field, value: 1 }
}

function freePlaces(farm: Farm): Place[] {
  const taken = takenPlaces(farm)
  return everyPlace.filter((place) => !taken.has(placeKey(place)))
}

function farmOf(entities: Parameters<LiveFarm['replace']>[0]): Farm {
  const live = new LiveFarm(farmID as FarmID)
  live.replace(entities)
  return live.farm.peek()
}

function nth<T>(all: readonly T[], n: number): T | undefined {
  return all[n % all.length]
}
