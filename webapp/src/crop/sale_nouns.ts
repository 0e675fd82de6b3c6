// What is sold, to whom and for how much. Mirrors internal/crop/sale.go.

import type { BedID, ColourID, Day, Grade, LengthClass, Millimetres, PersonID, ToldGrade } from './nouns'

declare const brand: unique symbol
type Brand<T, B extends string> = T & { readonly [brand]: B }

export type ChannelID = Brand<string, 'ChannelID'>
export type BuyerID = Brand<string, 'BuyerID'>
export type PriceID = Brand<string, 'PriceID'>
export type BunchID = Brand<string, 'BunchID'>
export type OrderID = Brand<string, 'OrderID'>
export type LineID = Brand<string, 'LineID'>
export type StandingID = Brand<string, 'StandingID'>
export type PackedID = Brand<string, 'PackedID'>
export type ShrinkID = Brand<string, 'ShrinkID'>
export type ClaimID = Brand<string, 'ClaimID'>
export type InvoiceID = Brand<string, 'InvoiceID'>

/** Whole hundredths of the farm's currency. */
export type Cents = Brand<number, 'Cents'>
/** Digits of ISO 8601, 1 for Monday to 7 for Sunday, in order. */
export type Weekdays = Brand<string, 'Weekdays'>

export type ChannelKind = 'wholesale' | 'co_op' | 'retail' | 'bouquet' | 'event' | 'dried'
export type ShrinkReason = 'wilted' | 'broken' | 'diseased' | 'too_open' | 'too_old' | 'given_away' | 'not_there' | 'other'
export type ClaimReason = 'shattered' | 'wilted' | 'colour' | 'short' | 'missing' | 'diseased' | 'unsold' | 'other'

export const channelKinds: readonly ChannelKind[] = ['wholesale', 'co_op', 'retail', 'bouquet', 'event', 'dried']
export const shrinkReasons: readonly ShrinkReason[] = ['wilted', 'broken', 'diseased', 'too_open', 'too_old', 'given_away', 'not_there', 'other']
export const claimReasons: readonly ClaimReason[] = ['shattered', 'wilted', 'colour', 'short', 'missing', 'diseased', 'unsold', 'other']

/** The largest amount of one price, fee, floor or credit; of bunches of one line; of stems in one bunch. */
export const mostCents = 100_000_000
export const mostBunches = 9_999
export const mostBunchStems = 500
/** For how many days after its cut a stem is offered where the farm says nothing (common practice, no source). */
export const usualCoolerDays = 7

export interface Channel {
  readonly id: ChannelID
  readonly name: string
  readonly kind: ChannelKind
  /** The least that a stem of a grade may go for, before commission. Only owners' devices know it. */
  readonly floor: ReadonlyMap<Grade, Cents>
  /** What the channel keeps of the price, in hundredths of a percent. */
  readonly commission: number
  /** What bringing one order costs, and whether the buyer pays it. */
  readonly fee: Cents
  readonly buyerPays: boolean
  /** Orders close so many days before the delivery, at a time of day or at the day's end. */
  readonly cutoffDays: number
  readonly cutoffTime: string
  /** On which it is delivered to; '' is any day. */
  readonly days: Weekdays
}

export interface Buyer {
  readonly id: BuyerID
  readonly name: string
  readonly channel: ChannelID
  readonly address: string
  readonly phone: string
  readonly email: string
  readonly note: string
  /** Which colour classes are taken where one that was asked for is short. */
  readonly accepts: ReadonlyMap<ColourID, readonly ColourID[]>
}

/** A rule for tying bunches. */
export interface Bunch {
  readonly id: BunchID
  readonly name: string
  readonly stems: number
  /** At least; '' is any but out. */
  readonly grade: ToldGrade
  readonly length: Millimetres
}

/** What a bunch costs from a day on, until a price that begins later. */
export interface Price {
  readonly id: PriceID
  readonly channel: ChannelID
  /** '' is every buyer of the channel. */
  readonly buyer: BuyerID | ''
  /** '' is every colour class. */
  readonly colour: ColourID | ''
  readonly bunch: BunchID
  readonly from: Day | ''
  readonly cents: Cents
}

export interface Order {
  readonly id: OrderID
  readonly buyer: BuyerID
  readonly due: Day
  readonly taken: Day | ''
  readonly note: string
}

export interface Line {
  readonly id: LineID
  /** One of the two is told. */
  readonly order: OrderID | ''
  readonly standing: StandingID | ''
  readonly bunch: BunchID | ''
  readonly bunches: number
  /** A bunch. */
  readonly stems: number
  readonly grade: ToldGrade
  readonly length: Millimetres
  /** Any of these may be mixed in a bunch; none is any colour. */
  readonly colours: readonly ColourID[]
  /** All of the bunches or none. */
  readonly whole: boolean
  /** Nothing in place of a colour class, whatever the buyer accepts otherwise. */
  readonly exact: boolean
  /** A bunch; 0 is not agreed, or not this device's to know. */
  readonly price: Cents
}

export interface StandingOrder {
  readonly id: StandingID
  readonly buyer: BuyerID
  readonly from: Day
  /** The last day; '' is without end. */
  readonly until: Day | ''
  readonly days: Weekdays
  /** Weeks, counted from the week of `from`. */
  readonly every: number
  readonly skips: readonly Day[]
  readonly note: string
}

/** The stems of a bed, cut day, colour class, grade and length class that lie in the cooler. */
export interface LotID {
  readonly bed: BedID | ''
  readonly cut: Day
  readonly colour: ColourID | ''
  readonly grade: ToldGrade
  readonly length: LengthClass
}

/** What one device packed for one line on one day. */
export interface Packed {
  readonly id: PackedID
  readonly line: LineID
  readonly buyer: BuyerID
  readonly due: Day
  readonly date: Day
  readonly person: PersonID | ''
  readonly bunches: number
  /** Stems by lot (`lotCell`). */
  readonly stems: ReadonlyMap<string, number>
}

export interface Shrink {
  readonly id: ShrinkID
  readonly lot: LotID
  readonly stems: number
  readonly reason: ShrinkReason
  readonly what: string
  readonly date: Day
  readonly person: PersonID | ''
}

export interface Claim {
  readonly id: ClaimID
  readonly line: LineID
  readonly buyer: BuyerID
  readonly due: Day
  readonly lot: LotID | undefined
  readonly stems: number
  readonly reason: ClaimReason
  /** The stems came back. */
  readonly back: boolean
  readonly credit: Cents
  readonly what: string
  readonly date: Day
  readonly person: PersonID | ''
}

export interface Invoice {
  readonly id: InvoiceID
  readonly number: string
  readonly buyer: BuyerID
  readonly date: Day
  readonly payBy: Day | ''
  readonly currency: string
  /** Hundredths of a percent. */
  readonly taxRate: number
  readonly lines: readonly InvoiceLine[]
  readonly void: Day | ''
  /** The invoice that it takes back; '' for a bill. */
  readonly credits: InvoiceID | ''
  /** The claim that a credit note is of; '' for all others. */
  readonly claim: ClaimID | ''
  /** What a note takes back of tax, 0 or less; undefined where it is worked out of the rows, as of every bill. */
  readonly tax: Cents | undefined
  /** What its paper said when it was made; undefined on those of before that was kept. */
  readonly head: InvoiceHead | undefined
}

/** What a paper says beside its rows, whatever became of the buyer and the farm's terms since. */
export interface InvoiceHead {
  readonly buyerName: string
  readonly address: string
  readonly seller: string
  /** '' for the word for tax in the language of whoever prints it. */
  readonly taxName: string
}

export interface InvoiceLine {
  /** '' for a fee. */
  readonly line: LineID | ''
  readonly due: Day | ''
  readonly bunches: number
  readonly stems: number
  readonly cents: Cents
  readonly words: string
}

/** How the farm sells. */
export interface SaleTerms {
  /** ISO 4217; '' is told without one. */
  readonly currency: string
  readonly seller: string
  /** 0 is the usual. */
  readonly coolerDays: number
  /** Percent cut beyond what is due. */
  readonly overCut: number
  readonly payDays: number
  readonly taxRate: number
  readonly taxName: string
  /** What a broken promise costs, percent of the price of its stems; 0 is the usual. */
  readonly breakCost: number
}

/** What of a line stands on invoices. */
export interface Billed {
  /** On invoices that were not called void, less what notes took back. */
  readonly bunches: number
  /** On each of those invoices, the newest last. */
  readonly on: ReadonlyMap<InvoiceID, BilledOn>
}

/** A line on one invoice, less what its notes took off. */
export interface BilledOn {
  readonly bunches: number
  readonly left: Cents
  /** What claims were credited of it. */
  readonly claimed: Cents
  /** Whole bunches whose price claims of missing stems were credited. */
  readonly missing: number
}

export interface Billing {
  readonly lines: ReadonlyMap<LineID, Billed>
  /** The notes of claims, on invoices that stand, by number. */
  readonly notes: ReadonlyMap<ClaimID, readonly Invoice[]>
}

/** What a farm sells; each map is keyed by the noun's id. A new object whenever something of it changed. */
export interface Sales {
  readonly terms: SaleTerms
  readonly channels: ReadonlyMap<ChannelID, Channel>
  readonly buyers: ReadonlyMap<BuyerID, Buyer>
  readonly bunches: ReadonlyMap<BunchID, Bunch>
  readonly prices: ReadonlyMap<PriceID, Price>
  readonly orders: ReadonlyMap<OrderID, Order>
  readonly standings: ReadonlyMap<StandingID, StandingOrder>
  readonly lines: ReadonlyMap<LineID, Line>
  /** Lines by the order or standing order that they belong to. */
  readonly linesOf: ReadonlyMap<OrderID | StandingID, ReadonlySet<LineID>>
  readonly packed: ReadonlyMap<PackedID, Packed>
  /** What was packed, by the day on which it is due and by line, so that a day is found without a search through all. */
  readonly packedDue: ReadonlyMap<Day, ReadonlySet<PackedID>>
  readonly packedOf: ReadonlyMap<LineID, ReadonlySet<PackedID>>
  readonly ordersDue: ReadonlyMap<Day, ReadonlySet<OrderID>>
  readonly shrink: ReadonlyMap<ShrinkID, Shrink>
  /** What was written off, by the day on which it was and by lot (`lotCell`). */
  readonly shrinkOn: ReadonlyMap<Day, ReadonlySet<ShrinkID>>
  readonly shrinkOf: ReadonlyMap<string, ReadonlySet<ShrinkID>>
  readonly claims: ReadonlyMap<ClaimID, Claim>
  readonly claimsOf: ReadonlyMap<LineID, ReadonlySet<ClaimID>>
  /** Lines of which more bunches were packed than are ordered. */
  readonly overPacked: ReadonlySet<LineID>
  /** Lines for which other stems were packed than so many bunches have. */
  readonly otherStems: ReadonlySet<LineID>
  readonly invoices: ReadonlyMap<InvoiceID, Invoice>
  /** What of the invoices is asked line by line and claim by claim. */
  readonly billing: Billing
  /** Lines of which more bunches stand on invoices than are packed. */
  readonly overBilled: ReadonlySet<LineID>
  /** Deleted buyers and channels, which orders and prices may still name. */
  readonly goneBuyers: ReadonlyMap<BuyerID, Buyer>
  readonly goneChannels: ReadonlyMap<ChannelID, Channel>
  /** Withdrawn orders, standing orders and lines, for which something may have been packed. */
  readonly goneOrders: ReadonlyMap<OrderID, Order>
  readonly goneStandings: ReadonlyMap<StandingID, StandingOrder>
  readonly goneLines: ReadonlyMap<LineID, Line>
}
