// The nouns of a perennial cut-flower farm, mirrored from the Go package crop: ids and units are
// branded, so that a bed's id cannot stand where a plant's should.

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
export type Origin = 'seed' | 'plug' | 'division' | 'bought'

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
  readonly line: number
  readonly number: number
  readonly parents: readonly PlantID[]
  readonly colour: ColourID | ''
  readonly removed: Day | ''
  readonly counted: ReadonlyMap<Season, Window>
  /** The newest first. */
  readonly photos: readonly PlantPhoto[]
  /** Those taken away, the one taken away last first. */
  readonly photosAway: readonly PlantPhoto[]
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
  readonly counts: readonly Count[]
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
  readonly visits: ReadonlyMap<VisitID, Visit>
  /** Visits by plant, so that a plant's day is found without a search through all. */
  readonly visitsOf: ReadonlyMap<PlantID, ReadonlySet<VisitID>>
}
