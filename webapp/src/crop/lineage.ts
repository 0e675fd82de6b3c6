// Moving, dividing and taking out plants: what each says, and what undoes it.

import type { Fact } from '../log/change'
import { fieldWithdrawn } from '../log/read'
import type { Deed } from './deed'
import { placeFacts, plantFacts, plantingFacts, removedFacts, stayFacts, stockFacts, withdrawnFact } from './facts'
import type { BedID, Day, Farm, Place, PlaceSince, Plant, PlantID, Planting, Season, Stay, Stock, StockID } from './nouns'
import { bedOf } from './places'

/** Moves a plant on a day; `named` is a name that no other move has. A second move of a day is written beside the first, whose stay took no time. */
export function move(farm: Farm, plant: Plant, to: Place, day: Day, named: string): Deed {
  const enters: PlaceSince = { bed: to.bed, line: to.line, number: to.number, since: day, move: named }
  const stay = stayUntil(farm, plant, day)
  const stood = (on: boolean) => (stay ? stayFacts(plant.id, stay, named, on) : [])
  return {
    facts: [...placeFacts(plant.id, plant.places, [enters]), ...stood(true)],
    undo: [...placeFacts(plant.id, [enters], plant.places), ...stood(false)],
  }
}

/** Puts a place right that was written down wrong: the plant was never lifted, so it stood nowhere else. */
export function correctPlace(farm: Farm, plant: Plant, to: Place, day: Day, named: string): Deed {
  const since = plant.places[0]?.since ?? (farm.plantings.get(plant.planting)?.planted || day)
  const enters: PlaceSince = { bed: to.bed, line: to.line, number: to.number, since, move: named }
  return { facts: placeFacts(plant.id, plant.places, [enters]), undo: placeFacts(plant.id, [enters], plant.places) }
}

function stayUntil(farm: Farm, plant: Plant, day: Day): Stay | undefined {
  const bed = bedOf(farm, plant)
  if (bed === undefined) return undefined // its planting has not come here yet
  const from = plant.places[0]?.since ?? farm.plantings.get(plant.planting)?.planted ?? ''
  return { bed, line: plant.line, number: plant.number, from, until: day }
}

/** Settles which of the places that moves left a plant really has. */
export function settlePlace(plant: Plant, stands: PlaceSince): Fact[] {
  return placeFacts(plant.id, plant.places.filter((place) => place !== stands), [stands])
}

/** Takes plants out of the ground on a day. */
export function takeOut(plants: readonly Plant[], day: Day): Deed {
  return {
    facts: plants.flatMap(({ id }) => removedFacts(id, day)),
    undo: plants.flatMap(({ id, removed }) => removedFacts(id, removed)),
  }
}

/** A division as it is told: its code, and where it was set. */
export interface Child {
  readonly id: PlantID
  readonly code: string
  readonly place: Place
}

/** The planting that divisions are set as, and its stock, which may both be new. */
export interface Ground {
  readonly planting: Planting
  readonly stock: Stock
}

/** What becomes of the plant that was divided. */
export type Parent = { readonly becomes: 'kept' | 'taken_out' } | { readonly becomes: 'moved'; readonly to: Place; readonly named: string }

/** Divides a plant on the day of the planting that its children are. Whoever calls has asked `mayDivide`. */
export function divide(farm: Farm, parent: Plant, children: readonly Child[], ground: Ground, becomes: Parent): Deed {
  if (mayDivide(farm, parent) !== 'yes') throw new Error(`dividing ${parent.code}: nobody has said that its stock may be`)
  const { planting } = ground
  const of = parentBecomes(farm, parent, becomes, planting.planted)
  const begun = groundDeed(farm, ground)
  const born = children.flatMap(({ id, code, place: { line, number } }) => plantFacts({
    id, code, planting: planting.id, line, number, parents: [parent.id], beside: '', colour: parent.colour, removed: '', counted: new Map(),
  }))
  return {
    facts: [...begun.facts, ...born, ...of.facts],
    undo: [...children.map(({ id }) => withdrawnFact('plant', id, true)), ...begun.undo, ...of.undo],
  }
}

function parentBecomes(farm: Farm, parent: Plant, becomes: Parent, day: Day): Deed {
  if (becomes.becomes === 'moved') return move(farm, parent, becomes.to, day, becomes.named)
  if (becomes.becomes === 'taken_out') return takeOut([parent], day)
  return { facts: [], undo: [] }
}

/** Says a planting and its stock where the farm does not have them. */
export function groundDeed(farm: Farm, { planting, stock }: Ground): Deed {
  const newStock = !farm.stocks.has(stock.id)
  const newPlanting = !farm.plantings.has(planting.id)
  return {
    facts: [...(newStock ? stockFacts(stock) : []), ...(newPlanting ? plantingFacts(planting) : [])],
    undo: [
      ...(newPlanting ? [withdrawnFact('planting', planting.id, true)] : []),
      ...(newStock ? [withdrawnFact('stock', stock.id, true)] : []),
    ],
  }
}

/**
 * What takes a deed back by now: a planting or stock that came with it stays where another plant has been
 * set in it since.
 */
export function undoing(farm: Farm, { undo }: Deed): Fact[] {
  const going = new Set(undo.filter(withdraws).map(({ type, id }) => `${type} ${id}`))
  const stays = (type: string, id: string) => !going.has(`${type} ${id}`)
  const used = (fact: Fact): boolean => {
    if (fact.type === 'planting') return [...farm.plants.values()].some(({ id, planting }) => planting === fact.id && stays('plant', id))
    if (fact.type !== 'stock') return false
    return [...farm.plantings.values()].some((one) => one.stock === fact.id && (stays('planting', one.id) || used({ ...fact, type: 'planting', id: one.id })))
  }
  return undo.filter((fact) => !withdraws(fact) || !used(fact))
}

function withdraws({ field, value }: Fact): boolean {
  return field === fieldWithdrawn && value === 1
}

/** A planting of the stock in the bed on the day, if the farm has one, so that a day's divisions are one planting. */
export function plantingLike(farm: Farm, stock: Stock['id'], bed: BedID, planted: Day, firstSeason: Season): Planting | undefined {
  return [...farm.plantings.values()].find((one) =>
    one.stock === stock && one.bed === bed && one.planted === planted && one.firstSeason === firstSeason)
}

/** The stock of a plant. */
export function stockOf(farm: Farm, plant: Plant): Stock | undefined {
  const planting = farm.plantings.get(plant.planting)
  return planting && farm.stocks.get(planting.stock)
}

/** The stock that came of another in some way, if the farm has one. */
export function stockFrom(farm: Farm, from: Stock, origin: 'division' | 'self_sown'): Stock | undefined {
  return [...farm.stocks.values()].find((one) => one.from === from.id && one.origin === origin)
}

/**
 * Whether a plant may be divided. A protected cultivar may not be, without its owner's licence, and neither
 * may what came of it; where the stock is not known here yet, nobody can tell.
 */
export function mayDivide(farm: Farm, plant: Plant): 'yes' | 'protected' | 'unknown' {
  const line = stocksBehind(farm, stockOf(farm, plant))
  if (line.some((stock) => stock.protected)) return 'protected'
  return line.length > 0 && (line.at(-1)?.from === '' || new Set(line).size < line.length) ? 'yes' : 'unknown'
}

/** The stock for whose sake a plant may not be divided. */
export function protectedStock(farm: Farm, plant: Plant): Stock | undefined {
  return protectedBehind(farm, stockOf(farm, plant))
}

/** The stock for whose sake plants of a stock may not be divided: that itself, or one that it came of. */
export function protectedBehind(farm: Farm, stock: Stock | undefined): Stock | undefined {
  return stocksBehind(farm, stock).find((one) => one.protected)
}

/** A stock, the one which that came of and so on, as far as known here; one that comes twice ends it. */
function stocksBehind(farm: Farm, own: Stock | undefined): Stock[] {
  const line: Stock[] = []
  for (let stock = own; stock !== undefined; stock = stockKnown(farm, stock.from)) {
    const again = line.includes(stock)
    line.push(stock)
    if (again) break
  }
  return line
}

/** One that was withdrawn still tells what came of it. */
function stockKnown(farm: Farm, id: StockID | ''): Stock | undefined {
  return id === '' ? undefined : farm.stocks.get(id) ?? farm.withdrawn.stocks.get(id)
}
