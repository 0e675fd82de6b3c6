// What is safe to offer for the coming weeks, by colour class and rule for bunches: one offer after the other, each beside
// all that is promised and all that is offered before it, so that no stem is offered twice.

import { coolerDays } from '../crop/cooler'
import { addDays } from '../crop/day'
import { mondayOf } from '../crop/due'
import { type Least, strictestFirst } from '../crop/line_needs'
import type { ColourID, Day, Farm, Millimetres } from '../crop/nouns'
import type { BunchID } from '../crop/sale_nouns'
import { keepChance, safeAt } from '../forecast/asking'
import { type Demand, demandsByDay } from '../forecast/demands'
import { type Draws, weekDayOf } from '../forecast/draws'
import { lastCut, supplyOf } from '../forecast/open_promises'
import { Promised, type Supply } from '../forecast/promised'
import { rangeOf, stemsOfWeek } from '../forecast/sums'
import { compareText } from '../log/order'

/** How bunches are tied that are offered. */
export interface OfferRule extends Least {
  /** '' where the farm has no rules. */
  readonly id: BunchID | ''
  readonly name: string
  readonly stems: number
}

export interface WeekOffer {
  readonly rule: OfferRule
  /** '' is whatever colours are left over. */
  readonly colour: ColourID | ''
  readonly bunches: number
  readonly stems: number
}

export interface WeekOffers {
  /** The days on which they can be had: of this week those that are left. */
  readonly from: Day
  readonly to: Day
  /** In the order in which each is safe beside those before it. */
  readonly offers: readonly WeekOffer[]
  /** The chance that all of them are there. */
  readonly chance: number
}

/** Bunches of a farm that has no rules yet. */
const plainRule: OfferRule = { id: '', name: '', stems: 10, grade: 'second', length: 0 as Millimetres }

/** The farm's rules, the most demanding first: what less demanding ones take of better stems is offered last. */
export function offerRules({ sales }: Pick<Farm, 'sales'>): OfferRule[] {
  const rules = [...sales.bunches.values()].sort((a, b) => strictestFirst(a, b) || b.stems - a.stems || compareText(a.name, b.name) || compareText(a.id, b.id))
  return rules.length > 0 ? rules : [plainRule]
}

/**
 * So many weeks from this one on of which anything comes, or lies in the cooler, as far as the forecast goes, one after the
 * other: each takes a while. A week of which nothing is safe has no offers.
 */
export function* safeOffers(farm: Farm, draws: Draws, today: Day, weeks: number, rules: readonly OfferRule[]): Generator<WeekOffers, void> {
  const supply = supplyOf(farm, draws, today)
  const monday = mondayOf(today)
  const odds = keepChance(farm.sales.terms)
  const last = lastCut(draws, today)
  const served = demandsByDay(farm.sales, today, addDays(last, coolerDays(farm.sales.terms)))
  let failing = Math.floor(supply.coming.draws.n * (1 - odds) + 1e-9)
  for (let [week, told] = [0, 0]; told < weeks; week++) {
    const days = { from: week === 0 ? today : addDays(monday, 7 * week), to: addDays(monday, 7 * week + 6) }
    if (days.from > last) return
    if (!comesIn(draws, days) && (week > 0 || supply.lots.length === 0)) continue
    const rows = rowsOf(farm, draws, rules).map((row): Row => ({ ...row, demand: demandOf(row, cutIn(farm, days, week)) }))
    const found = offeredTogether(supply, served, rows, odds, failing)
    failing = found.failing
    served.push(...found.offers.map(({ row, stems }) => ({ ...row.demand, stems })))
    told++
    yield { ...days, chance: found.chance, offers: found.offers.map(({ row: { rule, colour }, stems }) => ({ rule, colour, stems, bunches: stems / rule.stems })) }
  }
}

/** Whether a stem that can be sold is to be expected in a week. */
function comesIn(draws: Draws, { from, to }: { readonly from: Day; readonly to: Day }): boolean {
  const place = weekDayOf(draws, to)
  return place !== undefined && rangeOf(stemsOfWeek(draws, place.week, { colours: [], grade: 'second' }, from)).mean >= 1
}

interface Row {
  readonly rule: OfferRule
  readonly colour: ColourID | ''
  /** Of no stems yet. */
  readonly demand: Demand
}

/** Rules in their order, within each the colours by name; what is left of all colours comes last. */
function rowsOf(farm: Farm, draws: Draws, rules: readonly OfferRule[]): Omit<Row, 'demand'>[] {
  const name = (id: ColourID) => farm.colours.get(id)?.name ?? '\ufffe'
  const grown = draws.colours.filter((colour): colour is ColourID => colour !== '')
  const lying = [...farm.lots.of.values()].flatMap(({ id }) => (id.colour === '' ? [] : [id.colour]))
  const colours = [...new Set([...grown, ...lying])].sort((a, b) => name(a).localeCompare(name(b)) || compareText(a, b))
  return [...rules.flatMap((rule) => colours.map((colour) => ({ rule, colour }))), ...rules.map((rule) => ({ rule, colour: '' as const }))]
}

/** Offers of a week are of its own cut, so that no two weeks offer the same; this week's of what lies in the cooler too. */
function cutIn({ sales }: Farm, { from, to }: { readonly from: Day; readonly to: Day }, week: number): { readonly from: Day; readonly to: Day } {
  return { from: week === 0 ? addDays(from, -coolerDays(sales.terms)) : from, to }
}

function demandOf({ rule, colour }: Omit<Row, 'demand'>, cut: { readonly from: Day; readonly to: Day }): Demand {
  return { ...cut, grade: rule.grade, length: rule.length, colours: colour === '' ? [] : [colour], stems: 0, lines: [] }
}

interface Together {
  readonly offers: readonly { readonly row: Row; readonly stems: number }[]
  readonly chance: number
}

/** So often a better number is looked for, and so much of what may fail is near enough (this program's choice). */
const [tries, nearEnough] = [5, 0.8]

/**
 * Offers of one week that are all there with at least a chance. Each alone being that safe does not make them so together:
 * so it is looked for in how many draws each may fail that they are, from a first guess on, as though together they failed
 * in proportion to what each may. Where that is not found, none of them fails in any draw.
 */
function offeredTogether(supply: Supply, served: readonly Demand[], rows: readonly Row[], odds: number, guess: number): Together & { readonly failing: number } {
  const { n } = supply.coming.draws
  const promised = new Promised(supply, [...served, ...rows.map(({ demand }) => demand)])
  const goBack = promised.mark()
  const failingIn = (failing: number) => ({ ...offeredInTurn(promised, served.length, rows, 1 - failing / n), failing })
  const allowed = Math.floor(n * (1 - odds) + 1e-9)
  let [low, high, next] = [0, allowed + 1, Math.max(1, guess)]
  let best: ReturnType<typeof failingIn> | undefined
  for (let i = 0; i < tries && low < next && next < high; i++) {
    const tried = failingIn(next)
    goBack()
    const failed = Math.round(n * (1 - tried.chance))
    if (failed <= allowed) [low, best] = [next, tried]
    else high = next
    if (failed <= allowed && failed >= nearEnough * allowed) break
    next = Math.min(high - 1, Math.max(low + 1, Math.round((next * allowed) / Math.max(1, failed))))
  }
  return best ?? failingIn(0)
}

/** Each offer as large as is there with such a chance beside all before it. */
function offeredInTurn(promised: Promised, first: number, rows: readonly Row[], each: number): Together {
  const there: boolean[] = []
  const offers = rows.flatMap((row, i) => {
    const stems = safeAt({ most: promised.most(row.demand).sort() }, each, row.rule.stems)
    if (stems === 0) return []
    promised.give(first + i, stems).forEach((got, draw) => { there[draw] = (there[draw] ?? true) && got === stems })
    return [{ row, stems }]
  })
  return { offers, chance: there.length === 0 ? 1 : there.filter((whole) => whole).length / there.length }
}
