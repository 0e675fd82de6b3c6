// Reading what is sold from merged entities. Mirrors internal/farm/sale_read.go.

import { count } from '../log/count'
import { cells, fields, int, list, members, text } from '../log/read'
import type { Entity } from '../log/state'
import { parseLotCell } from './lots'
import type { ColourID, Day, Grade, Millimetres, PersonID, ToldGrade } from './nouns'
import type {
  Bunch, BunchID, Buyer, BuyerID, Cents, Channel, ChannelID, ChannelKind, Claim, ClaimID, ClaimReason, Invoice, InvoiceHead, InvoiceID, InvoiceLine, Line,
  LineID, Order, OrderID, Packed, PackedID, Price, PriceID, SaleTerms, Shrink, ShrinkID, ShrinkReason, StandingID, StandingOrder, Weekdays,
} from './sale_nouns'

export function readTerms(e: Entity): SaleTerms {
  return {
    currency: text(e, 'currency'), seller: text(e, 'seller'), coolerDays: int(e, 'cooler_days'), overCut: int(e, 'over_cut'),
    payDays: int(e, 'pay_days'), taxRate: int(e, 'tax_rate'), taxName: text(e, 'tax_name'),
    breakCost: int(e, 'break_cost'),
  }
}

export function readChannel(e: Entity): Channel {
  const floor = new Map<Grade, Cents>()
  for (const [grade, field] of after(e, 'floor.')) if (int(e, field) > 0) floor.set(grade as Grade, cents(e, field))
  return {
    id: e.key.id as ChannelID, name: text(e, 'name'), kind: (text(e, 'kind') || 'wholesale') as ChannelKind, floor,
    commission: int(e, 'commission'), fee: cents(e, 'fee'), buyerPays: int(e, 'buyer_pays') === 1,
    cutoffDays: int(e, 'cutoff_days'), cutoffTime: text(e, 'cutoff_time'), days: text(e, 'days') as Weekdays,
  }
}

export function readBuyer(e: Entity): Buyer {
  const accepts = new Map<ColourID, readonly ColourID[]>()
  for (const [colour, field] of after(e, 'accepts.')) {
    const others = list(e, field) as readonly ColourID[]
    if (others.length > 0) accepts.set(colour as ColourID, others)
  }
  return {
    id: e.key.id as BuyerID, name: text(e, 'name'), channel: text(e, 'channel') as ChannelID, address: text(e, 'address'),
    phone: text(e, 'phone'), email: text(e, 'email'), note: text(e, 'note'), accepts,
  }
}

export function readBunch(e: Entity): Bunch {
  return {
    id: e.key.id as BunchID, name: text(e, 'name'), stems: int(e, 'stems'), grade: text(e, 'grade') as ToldGrade,
    length: int(e, 'least') as Millimetres,
  }
}

export function readPrice(e: Entity): Price {
  return {
    id: e.key.id as PriceID, channel: text(e, 'channel') as ChannelID, buyer: text(e, 'buyer') as BuyerID | '',
    colour: text(e, 'colour') as ColourID | '', bunch: text(e, 'bunch') as BunchID, from: text(e, 'since') as Day | '', cents: cents(e, 'cents'),
  }
}

export function readOrder(e: Entity): Order {
  return {
    id: e.key.id as OrderID, buyer: text(e, 'buyer') as BuyerID, due: text(e, 'due') as Day, taken: text(e, 'taken') as Day | '',
    note: text(e, 'note'),
  }
}

export function readStanding(e: Entity): StandingOrder {
  return {
    id: e.key.id as StandingID, buyer: text(e, 'buyer') as BuyerID, from: text(e, 'since') as Day, until: text(e, 'last') as Day | '',
    days: text(e, 'days') as Weekdays, every: int(e, 'every'), skips: members(e, 'skips') as Day[], note: text(e, 'note'),
  }
}

export function readLine(e: Entity): Line {
  return {
    id: e.key.id as LineID, order: text(e, 'order') as OrderID | '', standing: text(e, 'standing') as StandingID | '',
    bunch: text(e, 'bunch') as BunchID | '', bunches: int(e, 'bunches'), stems: int(e, 'stems'), grade: text(e, 'grade') as ToldGrade,
    length: int(e, 'least') as Millimetres, colours: list(e, 'colours') as readonly ColourID[], whole: int(e, 'whole') === 1,
    exact: int(e, 'exact') === 1, price: cents(e, 'cents'),
  }
}

export function readPacked(e: Entity): Packed {
  const stems = new Map<string, number>()
  let bunches = 0
  for (const cell of cells(e)) {
    const { total } = count(e, cell)
    if (cell === 'bunches') bunches = total
    else if (total !== 0 && parseLotCell(cell)) stems.set(cell, total)
  }
  return {
    id: e.key.id as PackedID, line: text(e, 'of') as LineID, buyer: text(e, 'buyer') as BuyerID, due: text(e, 'due') as Day,
    date: text(e, 'date') as Day, person: text(e, 'person') as PersonID | '', bunches, stems,
  }
}

/** Undefined before its lot is told. */
export function readShrink(e: Entity): Shrink | undefined {
  const lot = parseLotCell(text(e, 'lot'))
  if (!lot) return undefined
  return {
    id: e.key.id as ShrinkID, lot, stems: int(e, 'stems'), reason: (text(e, 'reason') || 'other') as ShrinkReason, what: text(e, 'what'),
    date: text(e, 'date') as Day, person: text(e, 'person') as PersonID | '',
  }
}

export function readClaim(e: Entity): Claim {
  return {
    id: e.key.id as ClaimID, line: text(e, 'of') as LineID, buyer: text(e, 'buyer') as BuyerID, due: text(e, 'due') as Day,
    lot: parseLotCell(text(e, 'lot')), stems: int(e, 'stems'), reason: (text(e, 'reason') || 'other') as ClaimReason, back: int(e, 'back') === 1,
    credit: cents(e, 'cents'), what: text(e, 'what'), date: text(e, 'date') as Day, person: text(e, 'person') as PersonID | '',
  }
}

export function readInvoice(e: Entity): Invoice {
  return {
    id: e.key.id as InvoiceID, number: text(e, 'invoice_no'), buyer: text(e, 'buyer') as BuyerID, date: text(e, 'date') as Day,
    payBy: text(e, 'pay_by') as Day | '', currency: text(e, 'currency'), taxRate: int(e, 'tax_rate'), void: text(e, 'void') as Day | '',
    credits: text(e, 'credits') as InvoiceID | '', claim: text(e, 'claim') as ClaimID | '', tax: fields(e).includes('tax') ? cents(e, 'tax') : undefined,
    head: fields(e).includes('buyer_name') ? readHead(e) : undefined,
    lines: members(e, 'rows').flatMap((row) => parseInvoiceLine(row) ?? []),
  }
}

function readHead(e: Entity): InvoiceHead {
  return { buyerName: text(e, 'buyer_name'), address: text(e, 'address'), seller: text(e, 'seller'), taxName: text(e, 'tax_name') }
}

/** Reads "003|line|2026-06-04|4|10|520|words". */
export function parseInvoiceLine(row: string): InvoiceLine | undefined {
  const [place, line, due, bunches, stems, amount, ...words] = row.split('|')
  const numbers = [bunches, stems, amount].map(Number)
  if (place === undefined || line === undefined || words.length === 0 || numbers.some((n) => !Number.isSafeInteger(n))) return undefined
  return {
    line: line as LineID | '', due: (due ?? '') as Day | '', bunches: numbers[0]!, stems: numbers[1]!, cents: numbers[2]! as Cents,
    words: words.join('|'),
  }
}

function cents(e: Entity, field: string): Cents {
  return int(e, field) as Cents
}

/** The fields that begin with a prefix, each with what comes after it. */
function after(e: Entity, prefix: string): [string, string][] {
  return fields(e).filter((field) => field.startsWith(prefix)).map((field) => [field.slice(prefix.length), field])
}
