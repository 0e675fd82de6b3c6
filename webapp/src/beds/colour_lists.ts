// Which plants to keep as mothers, to divide and to lift, by their colour, whether they hold it, and their stems; which
// are flagged to be kept and should not be; and which look well but are not known enough.

import type { PlantClass } from '../crop/colour_class'
import { standingFlag } from '../crop/flags'
import { mayDivide } from '../crop/lineage'
import type { ColourID, Farm, FlagKind, Plant, PlantID, Season } from '../crop/nouns'
import type { PlantWorth } from './ages_report'
import type { ColourStand, StandPlant, StandState } from './colour_stand'
import { classed } from './colour_shares'
import { type Standing, standingAmong, type WholeSeason } from './peers'

export type ListName = 'divide' | 'mother' | 'lift' | 'doubt' | 'measure'
export const listNames: readonly ListName[] = ['divide', 'mother', 'lift', 'doubt', 'measure']

/** The flag that each list is about; measuring has none. */
export const flagOf: Readonly<Record<ListName, FlagKind | undefined>> = { divide: 'divide', mother: 'mother', lift: 'lift', doubt: 'mother', measure: undefined }

/** What speaks for or against, asks for care, is worth knowing, or is not known. */
export type Tone = 'for' | 'against' | 'care' | 'also' | 'missing'

export type Why =
  | 'class' | 'class_other' | 'class_none' | 'between' | 'class_eye' | 'class_only_eye' | 'class_unknown' | 'unmeasured'
  | 'steady' | 'drift' | 'watch' | 'first_season' | 'cannot_tell'
  | 'stems_many' | 'stems_middle' | 'stems_few' | 'uncounted'
  | 'age' | 'weak' | 'protected' | 'origin_unknown' | 'reference'
  | `flag_${FlagKind}`

export interface Reason {
  readonly why: Why
  readonly tone: Tone
}

export interface Proposal {
  readonly plant: Plant
  readonly age: number
  readonly class: PlantClass | undefined
  /** undefined where it was not measured in the newest season. */
  readonly measured: StandPlant | undefined
  readonly stems: Stems | undefined
  readonly reasons: readonly Reason[]
}

export interface Lists {
  readonly of: Readonly<Record<ListName, readonly Proposal[]>>
  /** Plants of which nothing good is known yet. */
  readonly unknown: number
}

/** A plant's stems beside others of its age: by its newest whole season, else by the model. */
export interface Stems {
  readonly level: 'many' | 'middle' | 'few'
  readonly season: Season | undefined
  readonly standing: Standing | undefined
  readonly worth: PlantWorth | undefined
}

interface Asked {
  readonly farm: Farm
  /** Plants of the crop that stand, in walk order. */
  readonly plants: readonly Plant[]
  readonly stand: ColourStand
  /** Every counted plant's whole seasons. */
  readonly seasons: readonly WholeSeason[]
  readonly worthOf: (plant: PlantID) => PlantWorth | undefined
  /** Classes that buyers ask for; with none every class will do. */
  readonly wanted: ReadonlySet<ColourID>
}

/** So old a plant has filled its crown: younger ones are left to grow. */
export const oldEnough = 2
/** More than so many in ten of its age give fewer. */
const manyOfTen = 6
/** More than so many in ten give more. */
const fewOfTen = 7

/** Each plant is in one list at most, the first that it fits in the order of harm and then of good. */
export function proposals(asked: Asked): Lists {
  const of: Record<ListName, Proposal[]> = { divide: [], mother: [], lift: [], doubt: [], measure: [] }
  const measured = new Map([...asked.stand.plants, ...asked.stand.references].map((one) => [one.plant.id, one]))
  const told = new Map(classed(asked.farm, asked.plants, asked.stand.season, asked.stand.colours).map((one) => [one.plant.id, one]))
  const peers = peersOf(asked.seasons)
  let unknown = 0
  for (const plant of asked.plants) {
    const one = told.get(plant.id)
    if (!one) continue // not yet in its first season
    const known: Known = { plant, age: one.age, class: one.told, measured: measured.get(plant.id), stems: stemsOf(peers, plant.id, asked.worthOf(plant.id)) }
    const reasons = reasonsOf(asked, known)
    const list = listFor(asked.farm, known, reasons)
    if (list) of[list].push({ ...known, reasons })
    else if (reasons.every(({ tone }) => tone !== 'for' && tone !== 'against')) unknown++
  }
  return { of, unknown }
}

type Known = Omit<Proposal, 'reasons'>

function listFor(farm: Farm, known: Known, reasons: readonly Reason[]): ListName | undefined {
  const has = (...whys: Why[]) => whys.some((why) => reasons.some((one) => one.why === why))
  const against = reasons.some(({ tone }) => tone === 'against')
  const lost = has('class_other', 'class_none')
  if (has('flag_lift') || (lost && has('drift', 'stems_few')) || (has('drift') && has('stems_few')) || (has('flag_disease') && has('stems_few', 'weak'))) return 'lift'
  if (against) return has('flag_mother', 'flag_divide') ? 'doubt' : undefined
  if (reasons.some(({ tone }) => tone === 'missing')) return reasons.some(({ tone }) => tone === 'for') ? 'measure' : undefined
  return has('stems_many') && known.age >= oldEnough && mayDivide(farm, known.plant) === 'yes' ? 'divide' : 'mother'
}

function reasonsOf(asked: Asked, known: Known): Reason[] {
  return [
    ...colourReason(asked.wanted, known), stateReason(known), stemsReason(known.stems), ...groundReasons(asked, known),
    ...flagReasons(known.plant),
  ]
}

function colourReason(wanted: ReadonlySet<ColourID>, { class: told, measured }: Known): Reason[] {
  // Where every class will do, a plant of none that is known will do as well.
  if (!told) return wanted.size === 0 ? [] : [{ why: 'class_unknown', tone: 'missing' }]
  const asked = told.colour !== undefined && (wanted.size === 0 || wanted.has(told.colour))
  if (told.colour !== undefined && told.sure && !asked) return [{ why: 'class_other', tone: 'against' }]
  // Of a plant that was measured an eye is believed where its class has no measured colour; of another it is a hint.
  if (told.by === 'eye') return [measured ? { why: 'class_only_eye', tone: 'for' } : { why: 'class_eye', tone: 'also' }]
  if (!told.sure) return [{ why: 'between', tone: 'missing' }]
  return [told.colour === undefined ? { why: 'class_none', tone: 'against' } : { why: 'class', tone: 'for' }]
}

const states: Readonly<Record<StandState, Reason>> = {
  none: { why: 'steady', tone: 'for' }, drift: { why: 'drift', tone: 'against' }, watch: { why: 'watch', tone: 'missing' },
  first: { why: 'first_season', tone: 'missing' }, cannot_tell: { why: 'cannot_tell', tone: 'missing' },
}

function stateReason({ measured }: Known): Reason {
  return measured ? states[measured.state] : { why: 'unmeasured', tone: 'missing' }
}

function stemsReason(stems: Stems | undefined): Reason {
  if (!stems) return { why: 'uncounted', tone: 'missing' }
  if (stems.level === 'few') return { why: 'stems_few', tone: 'against' }
  // In the middle it hinders nothing and by itself is no reason to look closer.
  return stems.level === 'many' ? { why: 'stems_many', tone: 'for' } : { why: 'stems_middle', tone: 'also' }
}

function groundReasons({ farm, stand }: Asked, { plant, age }: Known): Reason[] {
  const may = mayDivide(farm, plant)
  return [
    ...(plant.stands.get(stand.season)?.what === 'weak' ? [{ why: 'weak', tone: 'against' } as const] : []),
    ...(may === 'protected' ? [{ why: 'protected', tone: 'care' } as const] : may === 'unknown' ? [{ why: 'origin_unknown', tone: 'care' } as const] : []),
    ...(age < oldEnough ? [{ why: 'age', tone: 'care' } as const] : []),
    ...(plant.reference ? [{ why: 'reference', tone: 'care' } as const] : []),
  ]
}

const flagTones: Readonly<Record<FlagKind, Tone>> = {
  mother: 'for', divide: 'for', lift: 'against', disease: 'against', colour_off: 'care', open_centre: 'care', leaning: 'care', self_sown: 'care',
}

function flagReasons(plant: Plant): Reason[] {
  return (Object.entries(flagTones) as [FlagKind, Tone][]).filter(([kind]) => standingFlag(plant, kind)).map(([kind, tone]) => ({ why: `flag_${kind}`, tone }))
}

interface Peers {
  readonly newest: ReadonlyMap<PlantID, WholeSeason>
  readonly alike: ReadonlyMap<string, readonly WholeSeason[]>
}

function peersOf(seasons: readonly WholeSeason[]): Peers {
  const newest = new Map<PlantID, WholeSeason>()
  const alike = new Map<string, WholeSeason[]>()
  for (const one of seasons) {
    const known = newest.get(one.plant)
    if (!known || one.season > known.season) newest.set(one.plant, one)
    const group = alike.get(alikeKey(one))
    if (group) group.push(one)
    else alike.set(alikeKey(one), [one])
  }
  return { newest, alike }
}

function alikeKey({ species, age }: WholeSeason): string {
  return `${age} ${species}`
}

function stemsOf({ newest, alike }: Peers, plant: PlantID, worth: PlantWorth | undefined): Stems | undefined {
  const own = newest.get(plant)
  const others = own ? (alike.get(alikeKey(own)) ?? []).filter((one) => one.plant !== plant) : []
  const standing = own && standingAmong(own.stems, others.map((one) => one.stems))
  const level = (standing && levelAmong(standing)) ?? (worth && levelByModel(worth))
  return level && { level, season: own?.season, standing, worth }
}

function levelAmong(standing: Standing): Stems['level'] | undefined {
  switch (standing.kind) {
    case 'few':
      return undefined
    case 'most':
      return 'many'
    case 'least':
      return 'few'
    case 'middle':
      return 'middle'
    case 'more':
      return standing.ofTen >= manyOfTen ? 'many' : 'middle'
    case 'fewer':
      return standing.ofTen >= fewOfTen ? 'few' : 'middle'
  }
}

function levelByModel({ times: { lo, hi } }: PlantWorth): Stems['level'] {
  return lo > 1 ? 'many' : hi < 1 ? 'few' : 'middle'
}
