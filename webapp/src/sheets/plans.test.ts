import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { bedFacts, farmFacts, plantFacts, plantingFacts, removedFacts, stockFacts, visitFacts, withdrawnFact } from '../crop/facts'
import type { BedID, Day, Farm, FarmID, PlantID, PlantingID, Season, StockID, VisitID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { buyerFacts, channelFacts } from '../crop/sale_facts'
import { saleLooks } from '../crop/sale_looks'
import type { BuyerID, ChannelID, OrderID } from '../crop/sale_nouns'
import { bedWith, plantingWith, plantWith, stockWith, visitWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import type { DateForm } from './cells'
import { allTold, type ChannelChoice, type ChannelChoices } from './channel_choice'
import { guessMatch, type SheetKind } from './columns'
import { planCuts } from './cuts_plan'
import type { SheetPlan } from './plan'
import { planPlants } from './plants_plan'
import { planSales } from './sales_plan'
import { readSheet } from './sheet'
import { planWeatherSheet } from './weather_plan'

const today = '2026-06-05' as Day

const ground: readonly Fact[] = [
  ...farmFacts({ id: 'f' as FarmID, name: 'F', unit: 'cm', calendar: { start: '01-01', southern: false } }),
  ...bedFacts(bedWith({ id: 'b1' as BedID, name: 'North' })), ...stockFacts(stockWith({ id: 's1' as StockID, name: 'Mix' })),
  ...plantingFacts(plantingWith({ id: 'g1' as PlantingID, stock: 's1' as StockID, bed: 'b1' as BedID, planted: '2024-09-18' as Day, firstSeason: 2025 as Season })),
  ...plantFacts(plantWith({ id: 'p1' as PlantID, code: 'A1', planting: 'g1' as PlantingID, line: 1, number: 1 })),
  ...plantFacts(plantWith({ id: 'p2' as PlantID, code: 'A2', planting: 'g1' as PlantingID, line: 1, number: 2 })),
  ...removedFacts('p2' as PlantID, '2026-04-01' as Day),
  ...visitFacts(visitWith({ id: 'v1' as VisitID, plant: 'p1' as PlantID, date: '2026-05-20' as Day, flush: 'spring', counts: [{ colour: '', grade: 'first', length: untoldLength, stems: 4 }] })),
  ...channelFacts('c1' as ChannelID, { name: 'Florists', kind: 'wholesale' }), ...buyerFacts('u1' as BuyerID, { name: 'Studio Nord', channel: 'c1' as ChannelID }),
]

function planText(kind: SheetKind, text: string, farm: Farm = farmSaid(ground), form: DateForm = 'ymd', channels?: ChannelChoices): SheetPlan {
  const sheet = readSheet(new TextEncoder().encode(text))!
  let n = 0
  const reading = { sheet, match: guessMatch(kind, sheet.headings), form, farm, today, newID: () => `new ${kind} ${++n}` }
  switch (kind) {
    case 'plants': return planPlants(reading)
    case 'cuts': return planCuts(reading)
    case 'sales': return planSales(reading, channels)
    case 'weather': return planWeatherSheet(reading, 'c')
  }
}

/** What of a farm a person sees, without ids. */
function seen(farm: Farm) {
  const name = <K, T extends { readonly name: string }>(all: ReadonlyMap<K, T>, id: K) => all.get(id)?.name ?? ''
  const { sales } = farm
  return {
    beds: [...farm.beds.values()].map((bed) => bed.name).sort(), stocks: [...farm.stocks.values()].map((stock) => stock.name).sort(), people: [...farm.people.values()].map((one) => one.name).sort(),
    colours: [...farm.colours.values()].map((colour) => colour.name).sort(),
    plants: [...farm.plants.values()].map((plant) => {
      const planting = farm.plantings.get(plant.planting)!
      return [plant.code, name(farm.stocks, planting.stock), name(farm.beds, planting.bed), planting.planted, planting.firstSeason, plant.removed, plant.colour === '' ? '' : name(farm.colours, plant.colour),
        `${plant.line}/${plant.number}`, plant.parents.map((id) => farm.plants.get(id)?.code), [...plant.counted].map(([season, { from, to }]) => `${season}: ${from}/${to}`)].join(' | ')
    }).sort(),
    visits: [...farm.visits.values()].map((visit) => [visit.date, visit.purpose, visit.plant === '' ? name(farm.beds, visit.bed as BedID) : farm.plants.get(visit.plant)?.code, visit.flush,
      visit.counts.map(({ colour, grade, length, stems }) => `${colour === '' ? '' : name(farm.colours, colour)} ${grade} ${length.lo}-${length.hi}: ${stems}`).sort().join()].join(' | ')).sort(),
    orders: [...sales.orders.values()].map((order) => `${order.due} ${name(sales.buyers, order.buyer)} ${order.note}`).sort(),
    lines: [...sales.lines.values()].map((line) => `${line.bunches} of ${line.stems} ${line.grade} ${line.length} ${line.colours.map((id) => name(farm.colours, id)).join()} at ${line.price}`).sort(),
    packed: [...sales.packed.values()].map((packed) => `${packed.date}: ${packed.bunches}, ${packed.stems.size} lots`).sort(),
    buyers: [...sales.buyers.values()].map((buyer) => `${buyer.name} by ${name(sales.channels, buyer.channel)}`).sort(),
    payments: [...farm.money.payments.values()].map(({ order, date, cents }) => `${date} ${cents} of ${sales.orders.get(order as OrderID)?.due ?? ''}`).sort(),
    channels: [...sales.channels.values()].map((one) => `${one.name} ${one.kind} ${one.commission}`).sort(),
    weather: [...farm.ahead.weather].map(([day, { min, max }]) => `${day} ${min} ${max}`).sort(),
  }
}

/** What taking it in made; undoing it leaves the farm as it was, and reading the same again does nothing. */
function taken(kind: SheetKind, text: string, form?: DateForm) {
  const plan = planText(kind, text, farmSaid(ground), form)
  expect(plan.problems).toEqual([])
  const after = farmSaid(ground, plan.deed.facts)
  expect(seen(farmSaid(ground, plan.deed.facts, plan.deed.undo))).toEqual(seen(farmSaid(ground)))
  const again = planText(kind, text, after, form)
  expect([again.problems, again.deed.facts]).toEqual([[], []])
  expect(saleLooks(after, today)).toEqual(saleLooks(farmSaid(ground), today))
  return seen(after)
}

/** "line column" of each problem. */
const where = ({ problems }: SheetPlan) => problems.map(({ line, column }) => `${line} ${column ?? ''}`.trim())

it('sales are written as what was sold already, by which a report knows that they were no promises', () => {
  const plan = planText('sales', 'date,buyer,bunches,stems_a_bunch,price_a_bunch\n2026-05-30,Ana,3,10,5.20\n')
  const { sales } = farmSaid(ground, plan.deed.facts)
  expect([plan.problems, [...sales.orders.values()].map(({ due, taken: on }) => [due, on])]).toEqual([[], [['2026-05-30', '2026-05-30']]])
  expect([...sales.packed.values()].map(({ date, person, stems }) => [date, person, stems.size])).toEqual([['2026-05-30', '', 0]])
})

describe('plants of a spreadsheet', () => {
  it('are planted, with what is new around them', () => {
    const { plants, beds, stocks, colours } = taken('plants', [
      'plant,stock,bed,planted,first_season,line,number,colour,removed,parent,counted_from,counted_to',
      'B1,Mix,North,2024-09-18,,1,3,Brick,,A1,2025-01-01,2099-12-31',
      'B2,New mix,South,2026-03-01,,,,brick,2026-05-01,B1,,',
    ].join('\n'))
    expect(plants).toEqual([
      'A1 | Mix | North | 2024-09-18 | 2025 |  |  | 1/1 |  | ', 'A2 | Mix | North | 2024-09-18 | 2025 | 2026-04-01 |  | 1/2 |  | ',
      'B1 | Mix | North | 2024-09-18 | 2025 |  | Brick | 1/3 | A1 | 2025: 2025-01-01/2025-12-31,2026: 2026-01-01/2026-12-31',
      'B2 | New mix | South | 2026-03-01 | 2026 | 2026-05-01 | Brick | 0/0 | B1 | ',
    ])
    expect([beds, stocks, colours]).toEqual([['North', 'South'], ['Mix', 'New mix'], ['Brick']])
  })

  it('that stand get a colour and a day on which they were removed, in Spanish with semicolons too', () => {
    const { plants } = taken('plants', 'Planta;Material;Cama;Plantada;Color;Arrancada\nA1;mix;NORTH;18/09/2024;Ladrillo;01/06/2026\n', 'dmy')
    expect(plants[0]).toBe('A1 | Mix | North | 2024-09-18 | 2025 | 2026-06-01 | Ladrillo | 1/1 |  | ')
  })

  it.each([
    ['no cell that is needed may be empty', ',,,,x', ['2 plant', '2 stock', '2 bed', '2 planted']],
    ['another stock and day than on the farm', 'A1,Other,North,2024-09-19', ['2 planted', '2 stock']],
    ['twice', 'B1,Mix,North,2026-03-01\nB1,Mix,North,2026-03-01', ['3 plant']],
    ['planted tomorrow', 'B1,Mix,North,2026-06-06', ['2 planted']],
    ['a cell under no heading', 'B1,Mix,North,2026-03-01,,x', ['2']],
    ['day and month first', 'B1,Mix,North,01/02/2026', ['2 planted']],
  ])('is refused: %s', (_, rows, want) => {
    expect(where(planText('plants', `plant,stock,bed,planted,remark\n${rows}\n`)).sort()).toEqual(want.sort())
  })

  it.each([
    ['removed before planted', 'B1,Mix,North,2026-03-01,2026-02-01,,,,', '2 removed'],
    ['line without number', 'B1,Mix,North,2026-03-01,,1,,,', '2 number'],
    ['a place that is taken', 'B1,Mix,North,2026-03-01,,1,1,,', '2 number'],
    ['an unknown parent', 'B1,Mix,North,2026-03-01,,,,Z9,', '2 parent'],
    ['its own parent', 'B1,Mix,North,2026-03-01,,,,B1,', '2 parent'],
    ['a first season two years on', 'B1,Mix,North,2026-03-01,,,,,2028', '2 first_season'],
    ['another first season than the planting has', 'B1,Mix,North,2024-09-18,,,,,2024', '2 first_season'],
  ])('is refused: %s', (_, row, want) => {
    expect(where(planText('plants', `plant,stock,bed,planted,removed,line,number,parent,first_season\n${row}\n`))).toEqual([want])
  })

  it('more at once than one operation holds are refused', () => {
    const rows = Array.from({ length: 8_000 }, (_, i) => `N${i},Mix,North,2026-03-01,1,${i + 10}`)
    const plan = planText('plants', `plant,stock,bed,planted,line,number\n${rows.join('\n')}\n`)
    expect([where(plan), plan.deed.facts]).toEqual([['1'], []])
  })
})

describe('cuts of a spreadsheet', () => {
  it('become visits to plants and bench totals', () => {
    const { visits, people } = taken('cuts', [
      'date,plant,bed,stems,grade,length,colour,flush,person',
      '2026-06-01,A1,,3,First,50,,,Ana', '2026-06-01,A1,North,2,extra,60,,,Ana', '2026-06-01,,north,120,,,Brick,fall,Ana', '2026-05-20,A1,,4,first,,,,',
    ].join('\n'))
    expect(visits).toEqual([
      '2026-05-20 | cut | A1 | spring |  first 0-0: 4', '2026-06-01 | bench | North | fall | Brick  0-0: 120',
      '2026-06-01 | cut | A1 | spring |  extra 600-700: 2, first 500-600: 3',
    ])
    expect(people).toEqual(['Ana'])
  })

  it('are read from what the Spanish tables write of them', () => {
    // What package tables writes, which its own test holds the file to.
    const { visits, people, colours } = taken('cuts', readFileSync(join(import.meta.dirname, '../../../testdata/sheets/tables/conteos.csv'), 'utf8'))
    expect(visits).toEqual([
      '2026-05-20 | cut | A1 | spring |  first 0-0: 4',
      '2026-05-28 | cut | A1 | spring |  extra 600-700: 2, first 500-600: 3, out 0-0: 1, second 400-500: 4',
      '2026-05-29 | bench | North | spring | Ladrillo  0-0: 120',
    ])
    expect([people, colours]).toEqual([[], ['Ladrillo']])
  })

  it.each([
    ['neither plant nor bed', '2026-06-01,,,3', '2 plant'], ['an unknown plant', '2026-06-01,Z,,3', '2 plant'], ['an unknown bed', '2026-06-01,,South,3', '2 bed'],
    ['a plant in another bed', '2026-06-01,A1,South,3', '2 bed'], ['before it was planted', '2024-06-01,A1,,3', '2 date'], ['after it was removed', '2026-06-01,A2,,3', '2 date'],
    ['no stems', '2026-06-01,A1,,', '2 stems'], ['half a stem', '2026-06-01,A1,,1.5', '2 stems'], ['a slip', '2026-06-01,A1,,1000', '2 stems'],
    ['another count of the same day', '2026-05-20,A1,,9', '2'], ['in the future', '2026-07-01,A1,,1', '2 date'],
  ])('are refused: %s', (_, row, want) => {
    expect(where(planText('cuts', `date,plant,bed,stems\n${row}\n`))).toEqual([want])
  })
})

describe('sales of a spreadsheet', () => {
  it('become orders that are packed of lots that nobody told', () => {
    const { orders, lines, packed, buyers, payments } = taken('sales', [
      'Fecha;Comprador;Canal;Color;Grado;Largo;Manojos;Tallos por manojo;Precio por tallo;Precio;Pagado;Nota',
      '01/06/2026;studio nord;;Ladrillo;primera;50;4;10;0,52;;01/06/2026;', '01/06/2026;Studio Nord;;;;;2;10;;6,00;;Puerta de atrás',
      '02/06/2026;;Feria;;;;12;5;;2,50;sí;',
    ].join('\n'), 'dmy')
    expect(orders).toEqual(['2026-06-01 Studio Nord Puerta de atrás', '2026-06-02 Feria '])
    expect(lines).toEqual(['12 of 5  0  at 250', '2 of 10  0  at 600', '4 of 10 first 500 Ladrillo at 520'])
    expect(packed).toEqual(['2026-06-01: 2, 0 lots', '2026-06-01: 4, 0 lots', '2026-06-02: 12, 0 lots'])
    expect(buyers).toEqual(['Feria by Feria', 'Studio Nord by Florists'])
    expect(payments).toEqual(['2026-06-01 2080 of 2026-06-01', '2026-06-02 3000 of 2026-06-02'])
  })

  it.each([
    ['nobody named', '2026-06-01,,,4,10,', ['2 buyer']],
    ['no bunch', '2026-06-01,Studio Nord,,0,10,', ['2 bunches']], ['a price of half a cent', '2026-06-01,Studio Nord,,4,10,0.005', ['2 price']],
    ['paid in words that say nothing', '2026-06-01,Studio Nord,,4,10,5,by cheque', ['2 paid']], ['paid without a price', '2026-06-01,Studio Nord,,4,10,,yes', ['2 paid']],
    ['a price that can be read in two ways', '2026-06-01,Studio Nord,,4,10,1.250', ['2 price']], ['empty', ',Studio Nord,,,,', ['2 bunches', '2 date', '2 stems_a_bunch']],
  ])('are refused: %s', (_, row, want) => {
    expect(where(planText('sales', `date,buyer,channel,bunches,stems_a_bunch,price,paid\n${row}\n`)).sort()).toEqual(want)
  })

  it('that the farm has, but not what a later sheet says was paid, are told', () => {
    const sheet = (paid: string) => `date,buyer,bunches,stems_a_bunch,price,paid\n2026-06-01,Studio Nord,4,10,5,${paid}\n`
    const open = farmSaid(ground, planText('sales', sheet('')).deed.facts)
    expect(planText('sales', sheet('yes'), open).would).toEqual([expect.stringContaining('1 row')])
    expect(planText('sales', sheet('no'), open).would).toEqual([])
    const paid = farmSaid(ground, planText('sales', sheet('yes')).deed.facts)
    expect(planText('sales', sheet('yes'), paid).would).toEqual([])
  })

  it('the same twice in a file are two lines', () => {
    expect(taken('sales', 'date,buyer,bunches,stems_a_bunch\n2026-06-01,Studio Nord,4,10\n2026-06-01,Studio Nord,4,10\n').packed).toHaveLength(2)
  })

  it.each<[string, ChannelChoice | undefined, string[], string[]]>([
    ['are told as not there', undefined, ['Feria wholesale 0', 'Florists wholesale 0'], ['Feria by Feria']],
    ['are of a kind and keep a part', { kind: 'co_op', percent: '12,5' }, ['Feria co_op 1250', 'Florists wholesale 0'], ['Feria by Feria']],
    ['are one of the farm’s', { channel: 'c1' as ChannelID }, ['Florists wholesale 0'], ['Feria by Florists']],
  ])('new channels %s', (_, choice, channels, buyers) => {
    const text = 'date,channel,bunches,stems_a_bunch\n2026-06-01,Feria,4,10\n2026-06-02,FERIA,4,10\n'
    const plan = planText('sales', text, undefined, undefined, choice && new Map([['feria', choice]]))
    const after = seen(farmSaid(ground, plan.deed.facts))
    expect([plan.channels, after.channels, after.buyers.slice(0, 1), allTold(plan.channels ?? [], choice ? new Map([['feria', choice]]) : new Map())]).toEqual([['Feria'], channels, buyers, choice !== undefined])
    expect(seen(farmSaid(ground, plan.deed.facts, plan.deed.undo))).toEqual(seen(farmSaid(ground)))
  })

  it.each<[string, ChannelChoice | undefined, string[]]>([
    ['is asked about', undefined, []], ['is the buyer’s own', { channel: 'c1' as ChannelID }, []],
    ['is another, which is refused and can be told otherwise', { kind: 'retail', percent: '' }, ['2 channel']],
    ['is another of the farm’s, which is so too', { channel: 'c2' as ChannelID }, ['2 channel']],
  ])('a channel that the farm does not have, of a buyer that it has, %s', (_, choice, want) => {
    const several = farmSaid(ground, channelFacts('c2' as ChannelID, { name: 'Market', kind: 'retail' }))
    const plan = planText('sales', 'date,buyer,channel,bunches,stems_a_bunch\n2026-06-01,Studio Nord,Shops,4,10\n', several, undefined, choice && new Map([['shops', choice]]))
    expect([where(plan), plan.channels]).toEqual([want, ['Shops']])
  })

  it('a channel of another name is refused where the farm has it, and asked about once alone', () => {
    const several = farmSaid(ground, channelFacts('c2' as ChannelID, { name: 'Market', kind: 'retail' }))
    expect(where(planText('sales', 'date,buyer,channel,bunches,stems_a_bunch\n2026-06-01,Studio Nord,market,4,10\n', several))).toEqual(['2 channel'])
    const sheet = (day: string) => `date,channel,bunches,stems_a_bunch\n${day},Feria,4,10\n`
    const first = planText('sales', sheet('2026-06-01'), undefined, undefined, new Map([['feria', { channel: 'c1' as ChannelID }]]))
    const later = planText('sales', sheet('2026-06-02'), farmSaid(ground, first.deed.facts))
    expect([where(later), later.channels, seen(farmSaid(ground, first.deed.facts, later.deed.facts)).orders]).toEqual([[], [], ['2026-06-01 Feria ', '2026-06-02 Feria ']])
  })

  it('a buyer that is new needs a channel where there are several', () => {
    const several = farmSaid(ground, channelFacts('c2' as ChannelID, { name: 'Market', kind: 'retail' }))
    expect(where(planText('sales', 'date,buyer,bunches,stems_a_bunch\n2026-06-01,New one,4,10\n', several))).toEqual(['2 channel'])
  })
})

describe('weather of a spreadsheet', () => {
  it('is taken with points and commas', () => {
    expect(taken('weather', 'fecha;mínima;máxima\n2026-06-01;-0,5;21\n2026-06-02;7;\n2026-06-03;8.5;20,25\n').weather).toEqual(['2026-06-01 -0.5 21', '2026-06-03 8.5 20.3'])
  })

  it.each([
    ['a day twice', '2026-06-01,1,2\n2026-06-01,1,2', '3 date'], ['the lowest above the highest', '2026-06-01,5,2', '2 tmin'], ['no number', '2026-06-01,cold,2', '2 tmin'],
    ['warmer than any day on earth', '2026-06-01,5,99', '2 tmax'], ['tomorrow', '2026-06-06,5,9', '2 date'],
  ])('is refused: %s', (_, rows, want) => expect(where(planText('weather', `date,tmin,tmax\n${rows}\n`))).toEqual([want]))
})

it('what was undone can be taken in again', () => {
  const text = 'plant,stock,bed,planted\nB1,Mix,South,2026-03-01\n'
  const { deed } = planText('plants', text)
  const undone = farmSaid(ground, deed.facts, deed.undo)
  expect(planText('plants', text, undone).would).toEqual(planText('plants', text).would)
})

it('a broken row refuses the whole file', () => {
  expect(where(planText('plants', 'plant,stock,bed,planted\nB"1,Mix,North,2026-03-01\nB2,Mix,North,2026-03-01\n'))).toEqual(['2'])
  expect(withdrawnFact('plant', 'p', true).value).toBe(1)
})
