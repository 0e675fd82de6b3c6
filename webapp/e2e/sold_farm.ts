// A made-up farm that sells: two beds, a cooler with lots of several ages, buyers, what was packed and what went wrong
// with it. Nothing in it was ever grown.

import type { BrowserContext } from 'playwright-core'
import { addDays, dayOf } from '../src/crop/day'
import { bedFacts, colourFacts, farmFacts, personFacts, plantFacts, plantingFacts, stockFacts, visitFacts } from '../src/crop/facts'
import { lotCell } from '../src/crop/lots'
import type { BedID, ColourID, Count, Day, FarmID, Grade, Millimetres, PersonID, PlantID, PlantingID, Season, Stage, StockID, VisitID } from '../src/crop/nouns'
import {
  buyerFacts, channelFacts, claimFacts, lineFacts, orderFacts, packedCount, packedFacts, shrinkFacts, termsFacts,
} from '../src/crop/sale_facts'
import type { BuyerID, Cents, ChannelID, ClaimID, LineID, LotID, OrderID, PackedID, ShrinkID, ShrinkReason, Weekdays } from '../src/crop/sale_nouns'
import { bedWith, plantWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { colours } from './bed_farm'
import { joinMany, whoIs } from './joining'
import { openShed, type Shed } from './shed'
import { admit, write } from './writer'

export const today = dayOf(new Date())
export const ago = (days: number): Day => addDays(today, -days)

export interface SoldFarm {
  readonly shed: Shed
  /** Has a browser's context carry the token of an owner's device that joined. */
  admit(context: BrowserContext): Promise<void>
  close(): Promise<void>
}

/** Opens a shed of the farm, with what more a test says. */
export async function openSoldFarm(more: (farm: FarmID) => readonly Fact[] = () => []): Promise<SoldFarm> {
  const shed = await openShed('serve')
  const [writer = '', reader = ''] = await joinMany(shed, 2)
  const { farm, person } = await whoIs(shed, reader)
  await write(shed, farm, writer, [...personFacts({ id: person, name: 'Maren' }), ...ground(farm), ...more(farm)])
  return {
    shed,
    admit: (context) => admit(context, shed, reader),
    close: () => shed.close(),
  }
}

export function length(cm: number): LotID['length'] {
  return { lo: (cm * 10) as Millimetres, hi: (cm * 10 + 100) as Millimetres }
}

export function lot(bed: string, daysAgo: number, colour: string, grade: Grade, cm: number): LotID {
  return { bed: bed as BedID, cut: ago(daysAgo), colour: colour as ColourID, grade, length: length(cm) }
}

/** A bench total: "ember first 50 40" is 40 stems. */
export function bench(bed: string, daysAgo: number, stage: Stage | '', ...told: readonly string[]): Fact[] {
  const counts: Count[] = told.map((text) => {
    const [colour = '', grade = '', cm = '', stems = ''] = text.split(' ')
    return { colour: colour as ColourID, grade: grade as Grade, length: length(Number(cm)), stems: Number(stems) }
  })
  return visitFacts({
    id: `bench ${bed} ${daysAgo}` as VisitID, plant: '', bed: bed as BedID, date: ago(daysAgo), purpose: 'bench', person: 'tilda' as PersonID, flush: 'spring',
    toOrder: false, planting: '', age: 0, stage, counts,
  })
}

export function order(id: string, buyer: string, inDays: number, lines: readonly { id: string; bunches: number; colours: readonly string[]; cents?: number }[]): Fact[] {
  return [
    ...orderFacts({ id: id as OrderID, buyer: buyer as BuyerID, due: ago(-inDays), taken: ago(Math.max(0, 3 - inDays)), note: '' }),
    ...lines.flatMap((line) => lineFacts({
      id: line.id as LineID, order: id as OrderID, standing: '', bunch: '', bunches: line.bunches, stems: 10, grade: 'first', length: 400 as Millimetres,
      colours: line.colours as readonly ColourID[], whole: false, exact: false, price: (line.cents ?? 520) as Cents,
    })),
  ]
}

export function packed(id: string, line: string, buyer: string, inDays: number, bunches: number, from: readonly (readonly [LotID, number])[], person = 'joaquin'): Fact[] {
  const at = id as PackedID
  return [
    ...packedFacts({ id: at, line: line as LineID, buyer: buyer as BuyerID, due: ago(-inDays), date: ago(Math.max(0, -inDays)), person: person as PersonID }),
    packedCount(at, 'bunches', bunches), ...from.map(([of, stems]) => packedCount(at, lotCell(of), stems)),
  ]
}

export function shrink(id: string, of: LotID, stems: number, reason: ShrinkReason, daysAgo: number): Fact[] {
  return shrinkFacts({ id: id as ShrinkID, lot: of, stems, reason, what: '', date: ago(daysAgo), person: 'tilda' as PersonID })
}

function ground(farm: FarmID): Fact[] {
  const year = Number(today.slice(0, 4))
  const bed = (id: string, name: string) => bedFacts(bedWith({ id: id as BedID, name, lines: 2 }))
  const planting = (id: string, of: string, first: number) =>
    plantingFacts({ id: id as PlantingID, stock: 'mix' as StockID, bed: of as BedID, planted: `${first - 1}-09-18` as Day, firstSeason: first as Season })
  const plants = (of: string, n: number, line = 1) => Array.from({ length: n }, (_, i) => plantFacts(plantWith({
    id: `${of} ${i}` as PlantID, code: `${of.toUpperCase().slice(0, 2)}${i + 1}`, planting: of as PlantingID, line, number: i + 1, colour: (i % 2 === 0 ? 'ember' : 'damson') as ColourID,
  }))).flat()
  return [
    ...farmFacts({ id: farm, name: 'Made-up shed', unit: 'cm', calendar: { start: '01-01', southern: false } }), ...termsFacts({ id: farm }, { currency: 'EUR' }),
    ...colours.flatMap(colourFacts), ...[['tilda', 'Tilda'], ['joaquin', 'Joaquín']].flatMap(([id, name]) => personFacts({ id: id as PersonID, name: name! })),
    ...bed('elder', 'Elder'), ...bed('ferro', 'Ferro'),
    ...stockFacts({ id: 'mix' as StockID, name: 'Made-up mix', species: 'Achillea millefolium', origin: 'seed', protected: false, from: '' }),
    ...planting('older', 'elder', year - 2), ...plants('older', 8), ...planting('young', 'ferro', year), ...plants('young', 3), ...planting('mid', 'ferro', year - 1), ...plants('mid', 3, 2),
    ...['older 0', 'older 2', 'older 3'].flatMap((plant, i) => visitFacts({
      id: `cut ${plant}` as VisitID, plant: plant as PlantID, bed: '', date: ago(2), purpose: 'cut', person: 'tilda' as PersonID, flush: 'spring', toOrder: false, planting: '', age: 0, stage: '',
      counts: [{ colour: '', grade: 'first', length: length(50), stems: 5 + i }],
    })),
    ...channelFacts('flo' as ChannelID, { name: 'Florists', kind: 'retail', commission: 0, fee: 0 as Cents, buyerPays: false, cutoffDays: 1, cutoffTime: '', days: '' as Weekdays }),
    ...buyerFacts('nord' as BuyerID, { name: 'Studio Nord', channel: 'flo' as ChannelID }), ...buyerFacts('harbour' as BuyerID, { name: 'Harbour Co-op', channel: 'flo' as ChannelID }),
  ]
}

/** A cooler as a grower finds it in the morning. */
export function aMorning(): Fact[] {
  const [embers, damsons, coral] = [lot('elder', 2, 'ember', 'first', 50), lot('ferro', 2, 'damson', 'first', 40), lot('ferro', 4, 'coral', 'extra', 60)]
  return [
    ...bench('elder', 2, 'opening', 'ember first 50 140', 'ember extra 60 37', 'damson second 40 22'), ...bench('ferro', 2, 'full', 'damson first 40 96', 'oyster first 50 54'),
    ...bench('ferro', 4, 'full', 'coral extra 60 80', 'barley first 50 43'), ...bench('elder', 7, '', 'garnet first 50 18'), ...bench('elder', 9, 'fading', 'ember second 40 31'),
    ...bench('ferro', 12, '', 'barley second 40 12'),
    ...order('o1', 'nord', -1, [{ id: 'l1', bunches: 4, colours: ['ember'] }]), ...order('o2', 'harbour', 0, [{ id: 'l2', bunches: 6, colours: ['ember', 'damson'] }, { id: 'l3', bunches: 8, colours: ['coral'] }]),
    ...order('o3', 'nord', 2, [{ id: 'l4', bunches: 12, colours: [] }]),
    ...packed('p1', 'l1', 'nord', -1, 4, [[embers, 40]]), ...packed('p2', 'l2', 'harbour', 0, 4, [[embers, 30], [damsons, 10]]),
    ...packed('p3', 'l3', 'harbour', 0, 5, [[coral, 50]]), ...packed('p4', 'l3', 'harbour', 0, 5, [[coral, 50]], 'tilda'),
    ...shrink('s1', embers, 6, 'broken', 1), ...shrink('s2', damsons, 12, 'wilted', 0), ...shrink('s3', lot('elder', 9, 'ember', 'second', 40), 9, 'too_open', 4),
    ...claimFacts({
      id: 'c1' as ClaimID, line: 'l1' as LineID, buyer: 'nord' as BuyerID, due: ago(1), lot: embers, stems: 5, reason: 'shattered', back: false, credit: 260 as Cents, what: 'two heads in the box',
      date: today, person: '',
    }),
  ]
}
