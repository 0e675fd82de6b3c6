// What a farm paid, worked and was paid. Mirrors internal/crop/money.go.

import type { BedID, Day, PersonID, StockID } from './nouns'
import type { Cents, ChannelID, InvoiceID, LineID, OrderID } from './sale_nouns'

declare const brand: unique symbol
type Brand<T, B extends string> = T & { readonly [brand]: B }

export type CostID = Brand<string, 'CostID'>
export type WorkID = Brand<string, 'WorkID'>
export type PaymentID = Brand<string, 'PaymentID'>
export type StatementID = Brand<string, 'StatementID'>
export type RowID = Brand<string, 'RowID'>

export type CostKind = 'plants' | 'soil' | 'water' | 'health' | 'supplies' | 'transport' | 'selling' | 'wages' | 'tools' | 'ground' | 'other'
export type WorkKind = 'cut' | 'bunch' | 'pack' | 'deliver' | 'sell' | 'plant' | 'divide' | 'weed' | 'support' | 'cut_back' | 'office' | 'other'

/** In the order in which they are offered. */
export const costKinds: readonly CostKind[] = ['plants', 'soil', 'water', 'health', 'supplies', 'transport', 'selling', 'wages', 'tools', 'ground', 'other']
export const workKinds: readonly WorkKind[] = ['cut', 'bunch', 'pack', 'deliver', 'sell', 'plant', 'divide', 'weed', 'support', 'cut_back', 'office', 'other']

/** The largest number of minutes that one person works on one day, and of rows of one statement. */
export const mostWorked = 24 * 60
export const mostRows = 9_999

/** Money that was spent, or the part of it that a season bears. */
export interface Cost {
  readonly id: CostID
  readonly date: Day
  readonly kind: CostKind
  readonly what: string
  readonly cents: Cents
  /** It would have been spent whatever was grown. */
  readonly fixed: boolean
  /** On what it was spent, each '' where it was for no one of them. */
  readonly bed: BedID | ''
  readonly stock: StockID | ''
  readonly channel: ChannelID | ''
}

/** Minutes that somebody worked on a day, timed or written down. */
export interface Work {
  readonly id: WorkID
  readonly date: Day
  readonly person: PersonID | ''
  readonly kind: WorkKind
  readonly minutes: number
  readonly bed: BedID | ''
  /** For which channel, where it was for one; only owners' devices know. */
  readonly channel: ChannelID | ''
  readonly note: string
}

/** Money that came for an invoice; below 0 where it was paid back. */
export interface Payment {
  readonly id: PaymentID
  /** '' where it came for an order. */
  readonly invoice: InvoiceID | ''
  /** What was paid for before any invoice was made; '' for payments of an invoice. It counts for the first that has a line of it. */
  readonly order: OrderID | ''
  readonly date: Day
  readonly cents: Cents
  readonly note: string
}

/** What a channel says it sold, such as a co-op at a month's end. */
export interface Statement {
  readonly id: StatementID
  readonly channel: ChannelID
  readonly from: Day
  readonly to: Day
  /** The day on which its money came; '' while it is awaited. */
  readonly paid: Day | ''
  /** The sum at its foot, as it is printed. */
  readonly cents: Cents
  readonly note: string
}

export interface StatementRow {
  readonly id: RowID
  readonly statement: StatementID
  /** Of its row on the paper, from 1. */
  readonly place: number
  readonly date: Day | ''
  /** As printed. */
  readonly words: string
  readonly bunches: number
  /** Before what the channel keeps. */
  readonly cents: Cents
  readonly kept: Cents
  /** The delivery that it is of, where a person said so; '' is found by what the row says. */
  readonly line: LineID | ''
  readonly due: Day | ''
  /** A person looked at how it differs and let it stand. */
  readonly settled: boolean
}

/** What is paid and worked; each map is keyed by the noun's id. A new object whenever something of it changed. */
export interface Money {
  readonly costs: ReadonlyMap<CostID, Cost>
  readonly work: ReadonlyMap<WorkID, Work>
  readonly workOn: ReadonlyMap<Day, ReadonlySet<WorkID>>
  readonly payments: ReadonlyMap<PaymentID, Payment>
  /** By what they are of. */
  readonly paymentsOf: ReadonlyMap<InvoiceID | OrderID, ReadonlySet<PaymentID>>
  readonly statements: ReadonlyMap<StatementID, Statement>
  readonly rows: ReadonlyMap<RowID, StatementRow>
  readonly rowsOf: ReadonlyMap<StatementID, ReadonlySet<RowID>>
  /** Withdrawn ones, which somebody may still have changed elsewhere. */
  readonly goneCosts: ReadonlyMap<CostID, Cost>
  readonly goneWork: ReadonlyMap<WorkID, Work>
  readonly gonePayments: ReadonlyMap<PaymentID, Payment>
  readonly goneStatements: ReadonlyMap<StatementID, Statement>
}
