// Sales of a spreadsheet: what a buyer got on a day becomes an order with its lines, each packed. Of which lots nobody
// said, so that what lies in the cooler stays as it is.

import { withdrawnFact, colourFacts } from '../crop/facts'
import { moneyWithdrawn, paymentFacts } from '../crop/money_facts'
import type { PaymentID } from '../crop/money_nouns'
import type { Colour, ColourID, Day, Millimetres, ToldGrade } from '../crop/nouns'
import { buyerFacts, channelFacts, lineFacts, orderFacts, packedCount, packedFacts } from '../crop/sale_facts'
import { type Buyer, type BuyerID, type Cents, type Channel, type ChannelID, type Line, type LineID, mostBunches, mostBunchStems, mostCents, type OrderID, type PackedID, type Weekdays } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { type ChannelChoices, readPercent } from './channel_choice'
import { type Cells, short } from './cells'
import { type PaidTold, readPaid } from './paid_cell'
import { Named, nameKey, opened, planned, type Reading, type SheetPlan } from './plan'

interface Sale {
  readonly buyer: Buyer
  readonly date: Day
  readonly bunches: number
  readonly stems: number
  readonly grade: ToldGrade
  readonly length: Millimetres
  readonly colour: ColourID | ''
  readonly price: Cents
  readonly paid: PaidTold | undefined
  readonly notes: readonly string[]
}

export function planSales(reading: Reading, choices: ChannelChoices = new Map()): SheetPlan {
  return new SalesPlan(reading, choices).made()
}

class SalesPlan {
  private readonly rows
  private readonly problems
  private readonly channels
  private readonly buyers
  private readonly colours
  private readonly sales: Sale[] = []

  private readonly unknown = new Map<string, string>()

  constructor(private readonly reading: Reading, private readonly choices: ChannelChoices) {
    const { farm: { sales, colours }, newID } = reading
    const { rows, problems } = opened(reading)
    this.rows = rows
    this.problems = problems
    this.channels = new Named<Channel>(sales.channels.values(), (name) => {
      const choice = choices.get(nameKey(name))
      const { kind, percent } = choice && 'kind' in choice ? choice : { kind: 'wholesale' as const, percent: '' }
      const none = { floor: new Map(), fee: 0 as Cents, buyerPays: false, cutoffDays: 0, cutoffTime: '', days: '' as Weekdays }
      return { ...none, id: newID() as ChannelID, name, kind, commission: readPercent(percent) ?? 0 }
    })
    this.buyers = new Named<Buyer>(sales.buyers.values(), (name) => ({ id: newID() as BuyerID, name, channel: '' as ChannelID, address: '', phone: '', email: '', note: '', accepts: new Map() }))
    this.colours = new Named<Colour>(colours.values(), (name) => ({ id: newID() as ColourID, name, swatch: '', lab: undefined, limit: 0, labFrom: '' }))
  }

  made(): SheetPlan {
    for (const row of this.rows) {
      const sale = this.read(row)
      if (sale) this.sales.push(sale)
    }
    const { fresh, same, paidSince } = this.apart()
    const orders = new Map<string, Sale[]>()
    for (const sale of fresh) {
      const key = `${sale.buyer.id}\n${sale.date}`
      orders.set(key, [...orders.get(key) ?? [], sale])
    }
    const facts: Fact[] = [
      ...this.colours.made.flatMap(colourFacts),
      ...this.channels.made.flatMap(({ id, name, kind, commission }) => channelFacts(id, { name, kind, ...(commission > 0 && { commission }) })),
      ...this.buyers.made.flatMap(({ id, name, channel }) => buyerFacts(id, { name, channel })),
    ]
    const undo: Fact[] = []
    for (const of of orders.values()) this.order(of, facts, undo)
    const gone = (type: 'buyer' | 'channel', made: readonly { readonly id: string }[]) => made.map(({ id }) => withdrawnFact(type, id, true, 'shed'))
    undo.push(...gone('buyer', this.buyers.made), ...gone('channel', this.channels.made), ...this.colours.made.map(({ id }) => withdrawnFact('colour', id, true)))
    return planned(this.problems, { would: this.would(fresh, orders.size, paidSince), same, deed: { facts, undo }, channels: [...this.unknown.values()] })
  }

  private would(fresh: readonly Sale[], orders: number, paidSince: number): string[] {
    const bunches = fresh.reduce((n, sale) => n + sale.bunches, 0)
    const paid = fresh.reduce((sum, sale) => sum + (sale.paid?.cents ?? 0), 0)
    const unpriced = fresh.filter(({ price }) => price === 0).length
    const said = (n: number, key: 'buyers' | 'colours' | 'unpriced' | 'paid_since') => (n > 0 ? [t(`sheets.would.${key}`, { n })] : [])
    return [
      ...(fresh.length > 0 ? [t('sheets.would.sales', { n: orders, bunches: t('sheets.would.bunches', { n: bunches }) }), t('sheets.would.no_lots')] : []),
      ...said(this.buyers.made.length, 'buyers'),
      ...this.channels.made.map(({ name }) => t('sheets.would.channel', { name })),
      ...said(this.colours.made.length, 'colours'), ...said(unpriced, 'unpriced'),
      ...(paid > 0 ? [t('sheets.would.paid', { sum: amount(paid as Cents, this.reading.farm.sales.terms.currency) })] : []),
      ...said(paidSince, 'paid_since'),
    ]
  }

  private read(row: Cells): Sale | undefined {
    const date = row.need('date') === '' ? '' : row.past('date')
    const bunches = row.need('bunches') === '' ? undefined : row.whole('bunches', 1, mostBunches)
    const stems = row.need('stems_a_bunch') === '' ? undefined : row.whole('stems_a_bunch', 1, mostBunchStems)
    const grade = row.grade()
    const length = row.length()
    const price = this.price(row, stems ?? 0)
    const buyer = this.buyer(row)
    const name = row.text('colour')
    if (date === '' || bunches === undefined || stems === undefined || !buyer) return undefined
    const paid = readPaid(row.text('paid'), { date, cents: (bunches * (price ?? 0)) as Cents }, this.reading.form)
    if (paid === undefined) row.refuse('paid', t(price === undefined || price === 0 ? 'sheets.wrong.paid_unpriced' : 'sheets.wrong.paid', { found: short(row.text('paid')) }))
    else if (paid && paid.date > this.reading.today) row.refuse('paid', t('sheets.wrong.future', { found: paid.date }))
    const notes = [row.text('note')].filter((note) => note !== '')
    return { buyer, date, bunches, stems, grade, length, colour: name === '' ? '' : this.colours.of(name).id, price: price ?? (0 as Cents), paid: paid ?? undefined, notes }
  }

  /** A bunch; where it is told of a stem, as many times that as a bunch has stems. */
  private price(row: Cells, stems: number): Cents | undefined {
    const bunch = row.cents('price')
    const stem = row.cents('price_a_stem')
    if (bunch !== undefined && stem !== undefined && stems > 0 && stem * stems !== bunch) row.refuse('price', t('sheets.wrong.two_prices'))
    const price = bunch ?? (stem === undefined ? undefined : (stem * stems) as Cents)
    if (price !== undefined && price > mostCents) row.refuse('price', t('sheets.wrong.amount', { found: String(price / 100) }))
    return price
  }

  /** A new buyer needs a channel; where a channel alone is told, it is also the buyer, as of a market. */
  private buyer(row: Cells): Buyer | undefined {
    const [name, channelName] = [row.text('buyer'), row.text('channel')]
    if (name === '' && channelName === '') {
      row.refuse('buyer', t('sheets.wrong.buyer_or_channel'))
      return undefined
    }
    const known = this.buyers.find(name === '' ? channelName : name)
    const { farm: { sales } } = this.reading
    if (known) {
      // A buyer found by a channel's name that the farm does not have, as after an earlier sheet, has its channel already.
      if (channelName !== '' && (name !== '' || !this.isUnknown(channelName))) this.sameChannel(row, known, channelName)
      return known
    }
    const only = sales.channels.size === 1 ? [...sales.channels.values()][0] : undefined
    if (channelName === '' && !only) {
      row.refuse('channel', t('sheets.wrong.new_buyer', { buyer: short(name) }))
      return undefined
    }
    const channel = channelName === '' ? only! : this.channelNamed(channelName)
    return Object.assign(this.buyers.of(name === '' ? channelName : name), { channel: channel.id })
  }

  /** Refuses another channel than a buyer's own; one of which nobody has said yet what it is may be that. */
  private sameChannel(row: Cells, buyer: Buyer, channelName: string): void {
    const its = [...this.channels.made, ...this.reading.farm.sales.channels.values()].find(({ id }) => id === buyer.channel)
    const told = this.channelNamed(channelName)
    const asked = this.isUnknown(channelName) && !this.choices.has(nameKey(channelName))
    if (!asked && its?.id !== told.id) row.refuse('channel', t('sheets.wrong.other_channel', { buyer: buyer.name, is: its?.name ?? t('sheets.none') }))
  }

  /** Whether the farm has no channel of that name. */
  private isUnknown(name: string): boolean {
    return ![...this.reading.farm.sales.channels.values()].some((one) => nameKey(one.name) === nameKey(name))
  }

  /** The farm's of that name, or what was chosen for it. */
  private channelNamed(name: string): Channel {
    const { farm: { sales } } = this.reading
    if (this.isUnknown(name) && !this.unknown.has(nameKey(name))) this.unknown.set(nameKey(name), name)
    const choice = this.choices.get(nameKey(name))
    return (choice && 'channel' in choice ? sales.channels.get(choice.channel) : undefined) ?? this.channels.of(name)
  }

  /** What the farm has already, each line once, and what is new; of how many that it has it knows of no payment, as the sheet does. */
  private apart(): { readonly fresh: Sale[]; readonly same: number; readonly paidSince: number } {
    const { farm: { sales, money } } = this.reading
    const there = new Map<string, OrderID[]>()
    for (const line of sales.lines.values()) {
      const order = line.order === '' ? undefined : sales.orders.get(line.order)
      if (!order) continue
      const key = saleKey({ buyer: order.buyer, date: order.due, bunches: line.bunches, stems: line.stems, grade: line.grade, length: line.length, colour: line.colours.join(), price: line.price })
      there.set(key, [...there.get(key) ?? [], order.id])
    }
    let paidSince = 0
    const fresh = this.sales.filter((sale) => {
      const order = there.get(saleKey({ ...sale, buyer: sale.buyer.id }))?.pop()
      if (order !== undefined && sale.paid && !money.paymentsOf.has(order)) paidSince += 1
      return order === undefined
    })
    return { fresh, same: this.sales.length - fresh.length, paidSince }
  }

  private order(sales: readonly Sale[], facts: Fact[], undo: Fact[]): void {
    const { newID } = this.reading
    const { buyer, date } = sales[0]!
    const order = newID() as OrderID
    const note = [...new Set(sales.flatMap(({ notes }) => notes))].join('\n').slice(0, mostNote)
    facts.push(...orderFacts({ id: order, buyer: buyer.id, due: date, taken: date, note }))
    for (const { bunches, stems, grade, length, colour, price } of sales) {
      const line: Line = { id: newID() as LineID, order, standing: '', bunch: '', bunches, stems, grade, length, colours: colour === '' ? [] : [colour], whole: false, exact: false, price }
      const packed = newID() as PackedID
      facts.push(...lineFacts(line), ...packedFacts({ id: packed, line: line.id, buyer: buyer.id, due: date, date, person: '' }), packedCount(packed, 'bunches', bunches))
      undo.push(withdrawnFact('packed', packed, true, 'shed'), withdrawnFact('line', line.id, true, 'shed'))
    }
    const paid = new Map<Day, number>() // by the day on which it came
    for (const one of sales) if (one.paid) paid.set(one.paid.date, (paid.get(one.paid.date) ?? 0) + one.paid.cents)
    for (const [came, cents] of paid) {
      const payment = newID() as PaymentID
      facts.push(...paymentFacts(payment, { order, date: came, cents: cents as Cents }))
      undo.push(moneyWithdrawn('payment', payment, true))
    }
    undo.push(withdrawnFact('order', order, true, 'shed'))
  }
}

const mostNote = 2_000

interface SaleLine {
  readonly buyer: BuyerID
  readonly date: Day
  readonly bunches: number
  readonly stems: number
  readonly grade: ToldGrade
  readonly length: Millimetres
  readonly colour: string
  readonly price: Cents
}

function saleKey({ buyer, date, bunches, stems, grade, length, colour, price }: SaleLine): string {
  return [buyer, date, bunches, stems, grade, length, colour, price].join('\n')
}
