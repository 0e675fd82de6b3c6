// A farm with one order and stems in the cooler for tests of packing, and a phone's own notebook over a disk in memory.

import { bedCell, countFact, visitFacts } from '../../crop/facts'
import type { BedID, ColourID, Day, Millimetres, PersonID, ToldGrade, VisitID } from '../../crop/nouns'
import { buyerFacts, channelFacts, lineFacts, orderFacts } from '../../crop/sale_facts'
import type { BuyerID, Cents, ChannelID, Line, LineID, LotID, OrderID } from '../../crop/sale_nouns'
import type { Role } from '../../crop/member'
import { visitWith } from '../../crop/testing/nouns'
import type { Device } from '../../db/device_db'
import type { Contents, Store } from '../../db/records'
import type { Fact } from '../../log/change'
import { Book } from '../../sync/book'
import { FarmNotebook } from '../../sync/farm_notebook'
import { Keeper } from '../../sync/keeper'
import { Session } from '../../sync/session'
import type { PackingAnswer, PlannedLine } from '../packing_answer'

export const packDay = '2026-06-04' as Day
export const [order, buyer] = ['o' as OrderID, 'b' as BuyerID]

export function lineWith(told: Partial<Line> = {}): Line {
  return {
    id: 'l' as LineID, order, standing: '', bunch: '', bunches: 4, stems: 10, grade: '', length: 0 as Millimetres, colours: ['ember' as ColourID],
    whole: false, exact: false, price: 500 as Cents, ...told,
  }
}

/** What the shed planned for a line of `lineWith`. */
export function plannedWith(told: Partial<PlannedLine> = {}): PlannedLine {
  const { bunches, stems, grade, length, colours, whole } = lineWith()
  return {
    line: 'l' as LineID, asked: { bunches, stems, grade, length, colours, whole }, packed: 0, more: 0, had: [], from: [], priced: true, kept: [], ...told,
  }
}

export function planWith(lines: readonly Partial<PlannedLine>[], told: Partial<PackingAnswer> = {}): PackingAnswer {
  return {
    arrival: 1, asof: packDay, at: 1, day: packDay, stems: 46, placed: 0, proven: true, unsold: [], top_down: [], pinned: {}, refused: [], wrong: [],
    lines: lines.map(plannedWith), ...told,
  }
}

export function lotOf(cut: string, told: { colour?: string; grade?: ToldGrade; cm?: number } = {}): LotID {
  const { colour = 'ember', grade = 'first', cm = 50 } = told
  const length = cm === 0 ? { lo: 0, hi: 0 } : { lo: cm * 10, hi: cm * 10 + 100 }
  return { bed: 'elder' as BedID, cut: cut as Day, colour: colour as ColourID, grade, length: length as LotID['length'] }
}

export function benchFacts(lot: LotID, stems: number): Fact[] {
  const visit = `${lot.cut} ${lot.colour} ${lot.grade} ${lot.length.lo}` as VisitID
  return [
    ...visitFacts(visitWith({ id: visit, bed: lot.bed, date: lot.cut, purpose: 'bench' })),
    countFact('shed', visit, bedCell(lot.colour, lot.grade, lot.length), stems),
  ]
}

/** An order for the day. */
export function orderedFacts(...lines: readonly Line[]): Fact[] {
  return [
    ...channelFacts('ch' as ChannelID, { name: 'Florists', kind: 'wholesale' }), ...buyerFacts(buyer, { name: 'Studio', channel: 'ch' as ChannelID }),
    ...orderFacts({ id: order, buyer, due: packDay, taken: '', note: '' }), ...lines.flatMap(lineFacts),
  ]
}

const nothing: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }

/** A notebook of crew, or of whoever is told, whose disk answers after a moment. */
export async function notebookOf(incarnation: string, who: string | { readonly person: string; readonly role: Role }, ...facts: readonly Fact[]): Promise<{ book: Book; notebook: FarmNotebook }> {
  const { person, role } = typeof who === 'string' ? { person: who, role: 'crew' } : who
  const book = new Book('farm', nothing, incarnation)
  const session = new Session(book, { device: incarnation, person: () => person, newIncarnation: () => '' })
  const device = { id: incarnation, farm: 'farm', person: person as PersonID, member: { role } } as unknown as Device
  const store: Store = { commit: () => new Promise((done) => setTimeout(done, 0)), close: () => {} }
  let wall = 1_000
  const notebook = new FarmNotebook(book, session, device, () => ++wall, () => {})
  notebook.attach(new Keeper(book, store, (touched) => notebook.applied(touched)), () => {})
  if (facts.length > 0) await notebook.record(facts)
  return { book, notebook }
}
