// The nouns of a perennial cut-flower farm, mirrored from the Go package crop: ids and units are
// branded, so that a bed's id cannot stand where a plant's should.

import type { Lab } from '../colour/lab'
import type { Ahead } from './ahead_nouns'
import type { Money } from './money_nouns'
import type { Lots } from './live_lots'
import type { Sales } from './sale_nouns'

export type { Lab } from '../colour/lab'

declare const brand: unique symbol
type Brand<T, B extends string> = T & { readonly [brand]: B }

export type FarmID = Brand<string, 'FarmID'>
export type PersonID = Brand<string, 'PersonID'>
export type BedID = Brand<string, 'BedID'>
export type StockID = Brand<string, 'StockID'>
export type PlantingID = Brand<string, 'PlantingID'>
export type PlantID = Brand<string, 'PlantID'>
export type ColourID = Brand<string, 'ColourID'>
export type VisitID = Brand<string, 'VisitID'>
export type EventID = Brand<string, 'EventID'>
export type ReadingID = Brand<string, 'ReadingID'>
/** A print batch of colour cards, by the code in its QR. */
export type CardID = Brand<string, 'CardID'>
/** A photo by the SHA-256 of its bytes, 64 small hexadecimal digits. */
export type PhotoHash = Brand<string, 'PhotoHash'>

/** A day on the farm's calendar, YYYY-MM-DD, compared as text; '' is unknown. */
export type Day = Brand<string, 'Day'>
/** A growing season, named by the year of its spring. */
export type Season = Brand<number, 'Season'>
export type Millimetres = Brand<number, 'Millimetres'>

export type LengthUnit = 'cm' | 'in'
export type Grade = 'extra' | 'first' | 'second' | 'out'
/** '' is untold. */
export type ToldGrade = Grade | ''
export type Flush = 'spring' | 'fall'
export type Purpose = 'cut' | 'standing' | 'nothing' | 'bed_cut' | 'bench'
/** self_sown: seedlings that nobody planted. */
export type Origin = 'seed' | 'plug' | 'division' | 'bought' | 'self_sown'
export type FlagKind = 'open_centre' | 'leaning' | 'self_sown' | 'colour_off' | 'disease' | 'mother' | 'divide' | 'lift'
/** What a spring stand walk finds. */
export type Stand = 'alive' | 'weak' | 'gone'
/** How far a head had opened when its colour was measured. */
export type Stage = 'opening' | 'full' | 'fading'
/** What it stood in; shade is open shade. */
export type Light = 'shade' | 'overcast' | 'sun' | 'indoors'
export type EventKind = 'corralled' | 'netted' | 'deadheaded' | 'watered' | 'fed' | 'sprayed' | 'other'

export const flagKinds: readonly FlagKind[] = ['open_centre', 'leaning', 'self_sown', 'colour_off', 'disease', 'mother', 'divide', 'lift']
export const eventKinds: readonly EventKind[] = ['corralled', 'netted', 'deadheaded', 'watered', 'fed', 'sprayed', 'other']
export const gradesHighToLow: readonly Grade[] = ['extra', 'first', 'second', 'out']
/** Largest count of one cell of a visit to one plant, and of a bed cut or bench total. */
export const mostStems = 999
export const mostBenchStems = 99_999

/** Stems of at least lo and less than hi; hi 0 is untold, openEnd is no upper bound. */
export interface LengthClass {
  readonly lo: Millimetres
  readonly hi: Millimetres
}
export const openEnd = 1_000_000 as Millimetres
export const untoldLength: LengthClass = { lo: 0 as Millimetres, hi: 0 as Millimetres }

/** Span of days, both ends included. */
export interface Window {
  readonly from: Day
  readonly to: Day
}

export interface Calendar {
  /** Month and day on which a season starts, MM-DD. */
  readonly start: string
  /** Spring begins in September. */
  readonly southern: boolean
}

export interface Person {
  readonly id: PersonID
  readonly name: string
}

export interface Colour {
  readonly id: ColourID
  readonly name: string
  /** '#rrggbb' or ''. */
  readonly swatch: string
  /** Its measured colour, where it has one. */
  readonly lab: Lab | undefined
  /** How far from it in CIEDE2000 a plant may lie and still be of this class; 0 is the usual limit. */
  readonly limit: number
  /** Whence its colour came: 'hand', 'plant/id', 'reading/id' or ''. */
  readonly labFrom: string
}

export interface Bed {
  readonly id: BedID
  readonly name: string
  readonly length: Millimetres
  readonly width: Millimetres
  readonly lines: number
  readonly cutBack: ReadonlyMap<Season, Day>
}

export interface Stock {
  readonly id: StockID
  readonly name: string
  readonly species: string
  readonly origin: Origin | ''
  readonly protected: boolean
  /** The stock that it was divided from, or came up beside. */
  readonly from: StockID | ''
}

export interface Planting {
  readonly id: PlantingID
  readonly stock: StockID
  readonly bed: BedID
  readonly planted: Day
  readonly firstSeason: Season
}

export interface Plant {
  readonly id: PlantID
  readonly code: string
  readonly planting: PlantingID
  /** Where it was moved to since it was planted; '' is its planting's bed. Ask `bedOf`. */
  readonly bed: BedID | ''
  /** Where it stands now; 0 is not known. */
  readonly line: number
  readonly number: number
  /** Where it was moved to, the latest first: more than one where moves missed each other. */
  readonly places: readonly PlaceSince[]
  /** Where it stood before, the first first. */
  readonly stood: readonly Stay[]
  readonly parents: readonly PlantID[]
  /** At whose foot it came up, of a self-sown seedling without a place of its own. */
  readonly beside: PlantID | ''
  readonly colour: ColourID | ''
  /** The colour class seen in each season. */
  readonly colours: ReadonlyMap<Season, Seen<ColourID>>
  readonly stands: ReadonlyMap<Season, Seen<Stand>>
  readonly removed: Day | ''
  readonly counted: ReadonlyMap<Season, Window>
  /** It is photographed in every session, so that light and cameras are told from drift. */
  readonly reference: boolean
  /** Those that stand, the newest first. */
  readonly flags: readonly Flag[]
  readonly flagsCleared: readonly ClearedFlag[]
  /** The newest first. */
  readonly notes: readonly Note[]
  /** The newest first. */
  readonly photos: readonly PlantPhoto[]
  /** Those taken away, the one taken away last first. */
  readonly photosAway: readonly PlantPhoto[]
}

/** A numbered position in a bed. */
export interface Place {
  readonly bed: BedID
  readonly line: number
  readonly number: number
}

export interface PlaceSince extends Place {
  readonly since: Day
  /** Names the move that took the plant there: no two moves write one element. */
  readonly move: string
}

/** Where a plant stood before it was moved. */
export interface Stay extends Place {
  readonly from: Day | ''
  /** The day of the move. */
  readonly until: Day
}

/** What was seen, and when. */
export interface Seen<T> {
  readonly day: Day
  readonly what: T
}

export interface Flag {
  readonly kind: FlagKind
  readonly day: Day
  readonly by: PersonID | ''
}

export interface ClearedFlag extends Flag {
  /** When it was cleared, in ms since 1970, and by whom. */
  readonly clearedAt: number
  readonly clearedBy: PersonID | ''
}

export interface Note {
  readonly day: Day
  readonly by: PersonID | ''
  readonly text: string
}

/** That a photo shows a plant. Its bytes may not be here yet, nor at the shed. */
export interface PlantPhoto {
  readonly hash: PhotoHash
  /** When it was put to the plant, or taken away, in ms since 1970. */
  readonly at: number
}

export interface Count {
  readonly colour: ColourID | ''
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly stems: number
}

export interface Visit {
  readonly id: VisitID
  readonly plant: PlantID | ''
  readonly bed: BedID | ''
  readonly date: Day
  readonly purpose: Purpose
  readonly person: PersonID | ''
  readonly flush: Flush | ''
  readonly toOrder: boolean
  readonly planting: PlantingID | ''
  readonly age: number
  /** How far the heads of a bench total had opened when they were cut; '' where nobody told. */
  readonly stage: Stage | ''
  readonly counts: readonly Count[]
  /** Visits to the same plant on the same day that somebody said are no repeats of this one. */
  readonly beside: readonly VisitID[]
}

/** Something that was done to a bed on a day. */
export interface BedEvent {
  readonly id: EventID
  readonly bed: BedID
  readonly kind: EventKind
  readonly date: Day
  readonly person: PersonID | ''
  /** With what, in the grower's words: a feed, a product. */
  readonly what: string
  /** Until when the label of a spray keeps people out, in ms since 1970; 0 where it does not. */
  readonly until: number
}

/** The colour of a plant's head, measured in one photo beside a colour card. */
export interface Reading {
  readonly id: ReadingID
  readonly plant: PlantID
  readonly date: Day
  readonly person: PersonID | ''
  readonly lab: Lab
  readonly se: Lab
  /** The head's width in millimetres, and its standard uncertainty; 0 was not measured. */
  readonly spread: number
  readonly spreadSE: number
  readonly stage: Stage | ''
  readonly light: Light | ''
  /** '' is without a card. */
  readonly card: CardID | ''
  /** The same text for the same camera. */
  readonly camera: string
  readonly photo: PhotoHash | ''
  /** Where the head is in its photo, each from 0 to 1 of the photo's width or height. */
  readonly head: HeadBox | undefined
  /** 0 to 100. */
  readonly quality: number
  readonly problems: readonly string[]
  /** When it was recorded, in ms since 1970: readings of one day come in this order. */
  readonly at: number
}

/** A reading before it is recorded. */
export type NewReading = Omit<Reading, 'at'>

export interface HeadBox {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** A print batch of colour cards. */
export interface Card {
  readonly id: CardID
  readonly printed: Day | ''
  /** Greys from dark to light, colours, paper, in the order of the card's geometry; none before it is characterised. */
  readonly patches: readonly Lab[]
  /** Standard uncertainty of a patch in each component. */
  readonly se: number
  readonly how: CardHow | ''
  readonly measured: Day | ''
  /** The day from which it is no longer used; '' while it is. */
  readonly retired: Day | ''
  /** What its printed scale of 80 mm measures, in millimetres; 0 was not measured. */
  readonly scale: number
}

export type CardHow = 'as_printed' | 'beside' | 'typed'

/** What was entered by mistake and withdrawn, as it was: others may have recorded for it since. */
export interface Withdrawn {
  readonly beds: ReadonlyMap<BedID, Bed>
  readonly stocks: ReadonlyMap<StockID, Stock>
  readonly plantings: ReadonlyMap<PlantingID, Planting>
  readonly plants: ReadonlyMap<PlantID, Plant>
}

/** What a person should settle about plants and places. */
export interface PlantLook {
  /**
   * 'shared_place': plants that stand in one place; 'two_places': a plant that two moves took to two places;
   * 'same_code': plants whose tags say the same; 'own_ancestor': a plant among its own ancestors;
   * 'counted_withdrawn': a plant that was withdrawn and has visits; 'no_planting': plants of a planting that
   * was withdrawn, or whose stock was; 'no_bed': plants in a bed that was.
   */
  readonly kind: 'shared_place' | 'two_places' | 'same_code' | 'own_ancestor' | 'counted_withdrawn' | 'no_planting' | 'no_bed'
  /** By their ids, in order. */
  readonly plants: readonly PlantID[]
}

/** The whole farm, kept up to date in place; each map is keyed by the noun's id. */
export interface Farm {
  readonly id: FarmID | ''
  readonly name: string
  readonly unit: LengthUnit
  readonly calendar: Calendar
  readonly madeUp: boolean
  readonly people: ReadonlyMap<PersonID, Person>
  readonly colours: ReadonlyMap<ColourID, Colour>
  readonly beds: ReadonlyMap<BedID, Bed>
  readonly stocks: ReadonlyMap<StockID, Stock>
  readonly plantings: ReadonlyMap<PlantingID, Planting>
  readonly plants: ReadonlyMap<PlantID, Plant>
  readonly events: ReadonlyMap<EventID, BedEvent>
  readonly cards: ReadonlyMap<CardID, Card>
  readonly readings: ReadonlyMap<ReadingID, Reading>
  /** Readings by plant. */
  readonly readingsOf: ReadonlyMap<PlantID, ReadonlySet<ReadingID>>
  readonly withdrawn: Withdrawn
  /** What is sold; the same object until something of it changes. */
  readonly sales: Sales
  /** What it was asked for and means to do; the same object until something of it changes. */
  readonly ahead: Ahead
  /** What it paid, worked and was paid; the same object until something of it changes. */
  readonly money: Money
  /** What became of the stems of each lot; the same object until something of it changes. */
  readonly lots: Lots
  readonly visits: ReadonlyMap<VisitID, Visit>
  /** Visits by plant, so that a plant's day is found without a search through all. */
  readonly visitsOf: ReadonlyMap<PlantID, ReadonlySet<VisitID>>
  /** Visits by day, so that a day's totals are found without a search through all. */
  readonly visitsOn: ReadonlyMap<Day, ReadonlySet<VisitID>>
  /** By plant and day (`repeatKey`), the cuts of which one may be a repeat of another. */
  readonly repeats: ReadonlyMap<string, readonly VisitID[]>
  /** What of plants and places a person should settle; the same array until it is another. */
  readonly plantLooks: readonly PlantLook[]
  /**
   * Grows whenever a bed, stock, planting, plant, event, colour or card changes, or a visit to a plant that is withdrawn,
   * so that a tap need not look through them.
   */
  readonly groundVersion: number
  /**
   * Grows as groundVersion does, but for what moves nothing: an event, a name of a person or colour, and what
   * was seen at a plant (flags, notes, photos, colours, stands). What compares all plants need not look for those.
   */
  readonly layoutVersion: number
  /** Grows whenever a visit comes, changes or goes. */
  readonly visitsVersion: number
  /** The same of each day's visits, so that what was read of a past day holds while today's come in. */
  readonly dayVersions: ReadonlyMap<Day, number>
  /** Grows whenever a reading comes, changes or goes. */
  readonly readingsVersion: number
}
