// Reading what lies ahead from merged entities. Mirrors internal/farm/ahead_read.go.

import { fields, int, list, text } from '../log/read'
import type { Entity } from '../log/state'
import type { Ask, AskAnswer, AskID, DayWeather, DivisionCosts, Expected, Intent, IntentDo, IntentID, Plan, Task, TaskID, TaskKind, Warmth } from './ahead_nouns'
import { asUsual, costFields } from './ahead_fields'
import { usualCosts, usualWarmth } from './ahead_nouns'
import { parseIntentID, parseSeason, parseTaskID } from './ahead_ids'
import { parseDay } from './day'
import type { BedID, ColourID, Day, Millimetres, PersonID, ToldGrade } from './nouns'
import type { BuyerID, Cents, OrderID } from './sale_nouns'

/** What is usual where the farm says nothing. */
export function readWarmth(e: Entity): Warmth {
  return {
    degrees: text(e, 'degrees') === 'f' ? 'f' : usualWarmth.degrees, lower: tenths(e, 'warm_lower') ?? usualWarmth.lower,
    upper: tenths(e, 'warm_upper') ?? usualWarmth.upper, method: text(e, 'warm_method') === 'average' ? 'average' : usualWarmth.method,
  }
}

/** What is usual where the farm says nothing, or says that it goes by that again. */
export function readCosts(e: Entity): DivisionCosts {
  const told = new Set(fields(e))
  const costs = costFields.filter(([, field]) => told.has(field) && int(e, field) !== asUsual).map(([cost, field]) => [cost, int(e, field)])
  return { ...usualCosts, ...Object.fromEntries(costs) as Partial<DivisionCosts> }
}

export function readAsk(e: Entity): Ask {
  return {
    id: e.key.id as AskID, buyer: text(e, 'buyer') as BuyerID | '', note: text(e, 'note'), stems: int(e, 'stems'),
    colours: list(e, 'colours') as readonly ColourID[], grade: text(e, 'grade') as ToldGrade, length: int(e, 'least') as Millimetres,
    from: text(e, 'since') as Day, due: text(e, 'due') as Day, taken: text(e, 'taken') as Day | '', person: text(e, 'person') as PersonID | '',
    answer: text(e, 'answer') as AskAnswer | '', offered: int(e, 'offered'), chance: int(e, 'chance'), order: text(e, 'order') as OrderID | '',
    price: int(e, 'cents') as Cents,
  }
}

/** Undefined where one of the two is not told, or for a day that there is not. */
export function readWeather(e: Entity): DayWeather | undefined {
  const min = tenths(e, 'min')
  const max = tenths(e, 'max')
  return min === undefined || max === undefined || parseDay(e.key.id) === undefined ? undefined : { min, max }
}

export function readTask(e: Entity): Task {
  const id = e.key.id as TaskID
  return {
    id, kind: parseTaskID(id)?.kind ?? ((text(e, 'kind') || 'own') as TaskKind), bed: text(e, 'bed') as BedID | '', due: text(e, 'due') as Day | '',
    what: text(e, 'what'), done: text(e, 'done') as Day | '', person: text(e, 'person') as PersonID | '', dropped: int(e, 'dropped') === 1,
  }
}

/** Undefined where it was taken back. */
export function readIntent(e: Entity): Intent | undefined {
  const id = e.key.id as IntentID
  const name = parseIntentID(id)
  const what = text(e, 'do') as IntentDo | ''
  if (!name || what === '') return undefined
  return {
    id, ...name, do: what, into: int(e, 'into'), why: list(e, 'why'), made: text(e, 'made') as Day | '', done: text(e, 'done') as Day | '',
    person: text(e, 'person') as PersonID | '', stems: expected(e, 'mean', 'lo', 'hi'),
    value: expected(e, 'cents', 'cents_lo', 'cents_hi') as Expected<Cents>,
  }
}

function expected(e: Entity, mean: string, lo: string, hi: string): Expected<number> {
  return { mean: int(e, mean), lo: int(e, lo), hi: int(e, hi) }
}

/** Undefined for an id that is no season. */
export function readPlan(e: Entity): Plan | undefined {
  const season = parseSeason(e.key.id)
  if (season === undefined) return undefined
  return {
    season, goal: int(e, 'goal'), seasons: int(e, 'seasons'), places: int(e, 'places'), minutes: int(e, 'minutes'), chance: int(e, 'chance'),
    made: text(e, 'made') as Day | '', net: int(e, 'net') as Cents,
  }
}

/** Undefined where it was never told: 0 degrees is a temperature like any other. */
function tenths(e: Entity, field: string): number | undefined {
  return fields(e).includes(field) ? int(e, field) / 10 : undefined
}
