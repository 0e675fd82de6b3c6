import { describe, expect, it } from 'vitest'
import { bedFacts, colourFacts, plantFacts, plantingFacts, stockFacts, visitFacts, withdrawnFact } from '../crop/facts'
import type { BedID, ColourID, Day, PlantID, PlantingID, Season, StockID, VisitID } from '../crop/nouns'
import { costFacts, statementFacts, workFacts } from '../crop/money_facts'
import type { CostID, StatementID, WorkID } from '../crop/money_nouns'
import { buyerFacts, channelFacts, orderFacts } from '../crop/sale_facts'
import type { BuyerID, Cents, ChannelID, OrderID } from '../crop/sale_nouns'
import { bedWith, colourWith, plantingWith, plantWith, stockWith, visitWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { undoNow } from './undo'

const planting = plantingWith({ id: 'g' as PlantingID, stock: 's' as StockID, bed: 'b' as BedID, planted: '2026-03-01' as Day, firstSeason: 2026 as Season })
const imported: readonly Fact[] = [
  ...bedFacts(bedWith({ id: 'b' as BedID })), ...stockFacts(stockWith({ id: 's' as StockID })), ...colourFacts(colourWith({ id: 'c' as ColourID })), ...plantingFacts(planting),
  ...plantFacts(plantWith({ id: 'p' as PlantID, planting: planting.id, colour: 'c' as ColourID })),
  ...channelFacts('k' as ChannelID, { name: 'K', kind: 'retail' }), ...buyerFacts('u' as BuyerID, { name: 'U', channel: 'k' as ChannelID }),
]
const undo: readonly Fact[] = [
  ...(['plant p', 'planting g', 'colour c', 'stock s', 'bed b'] as const).map((one) => withdrawnFact(one.split(' ')[0] as 'plant', one.split(' ')[1]!, true)),
  withdrawnFact('buyer', 'u', true, 'shed'), withdrawnFact('channel', 'k', true, 'shed'),
]

describe('an import is taken back', () => {
  it.each([
    ['whole, where nothing came since', [], ['plant', 'planting', 'colour', 'stock', 'bed', 'buyer', 'channel']],
    ['but for the ground of a plant that came since', plantFacts(plantWith({ id: 'q' as PlantID, planting: planting.id })), ['plant', 'colour', 'buyer', 'channel']],
    ['but for a bed that was cut in', visitFacts(visitWith({ id: 'v' as VisitID, bed: 'b' as BedID, purpose: 'bench', date: '2026-05-01' as Day, counts: [] })), ['plant', 'planting', 'colour', 'stock', 'buyer', 'channel']],
    ['but for a buyer who ordered, and the channel', orderFacts({ id: 'o' as OrderID, buyer: 'u' as BuyerID, due: '2026-06-01' as Day, taken: '', note: '' }), ['plant', 'planting', 'colour', 'stock', 'bed']],
    ['but for a bed and a stock that money was spent on', costFacts('x' as CostID, { bed: 'b' as BedID, stock: 's' as StockID, cents: 5 as Cents }), ['plant', 'planting', 'colour', 'buyer', 'channel']],
    ['but for a channel that money was spent on', costFacts('x' as CostID, { channel: 'k' as ChannelID, cents: 5 as Cents }), ['plant', 'planting', 'colour', 'stock', 'bed', 'buyer']],
    ['but for a bed that was worked in, for a channel', workFacts('w' as WorkID, { bed: 'b' as BedID, channel: 'k' as ChannelID, minutes: 5 }), ['plant', 'planting', 'colour', 'stock', 'buyer']],
    ['but for a channel that sent a statement', statementFacts('t' as StatementID, { channel: 'k' as ChannelID, cents: 5 as Cents }), ['plant', 'planting', 'colour', 'stock', 'bed', 'buyer']],
  ] as const)('%s', (_, since: readonly Fact[], want) => {
    expect(undoNow(farmSaid(imported, since), undo).map(({ type }) => type)).toEqual(want)
  })

  it('with what it changed', () => {
    const back: Fact = { scope: 'field', op: 'set', type: 'plant', id: 'p', field: 'colour', value: '' }
    expect(undoNow(farmSaid(imported), [back])).toEqual([back])
  })
})
