import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import { acceptsFacts, orderFacts, packedCount, packedFacts, standingFacts } from '../crop/sale_facts'
import { addDays } from '../crop/day'
import type { Member } from '../crop/member'
import type { Day } from '../crop/nouns'
import type { Fact } from '../log/change'
import type { LineID, OrderID, PackedID, StandingID, Weekdays } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import type { Notebook, SyncStatus } from '../sync/notebook'
import { dayToOpen, daysDue, dueLines } from './due_lines'
import type { PackingAnswer } from './packing_answer'
import { isPackingAnswer } from './packing_answer'
import { packedSince, planSentence } from './plan_sentence'
import { pathOf, planOf, wishing } from './plans'
import { buyer, lineWith, order, orderedFacts, packDay, planWith } from './testing/shop'

const line = 'l@2026-06-04' as LineID
const answer = planWith([{ line: 'l' as LineID, more: 3 }], {
  arrival: 3, at: 5, stems: 50, placed: 30, pinned: { [line]: 2 } as PackingAnswer['pinned'], refused: ['x' as LineID],
})

describe('what is asked of the shed', () => {
  const none = { pinned: new Map(), refused: new Set<LineID>() }
  test('is a line pinned, refused, or neither, never both', () => {
    const pinned = wishing(none, line, 3)
    expect(pathOf(packDay, pinned)).toBe('/api/packing?day=2026-06-04&pin=3%3Al%402026-06-04')
    const refused = wishing(pinned, line, 'refused')
    expect(pathOf(packDay, refused)).toBe('/api/packing?day=2026-06-04&refuse=l%402026-06-04')
    expect(pathOf(packDay, wishing(refused, line, 'free'))).toBe('/api/packing?day=2026-06-04')
  })

  test('is known again after the app was closed, from what the device kept', () => {
    const kept = new Map<string, unknown>([['packing.plan.4', answer]])
    const member = signal<Member | undefined>({ role: 'crew' } as Member)
    const notebook = { kept: (name: string) => kept.get(name), sync: signal({ link: 'offline' } as SyncStatus), member } as unknown as Notebook
    const plan = planOf(notebook, packDay)
    expect(plan.shed.answer.value).toBe(answer)
    expect(plan.wishes()).toEqual({ pinned: new Map([[line, 2]]), refused: new Set(['x']) })
    plan.wish(wishing(plan.wishes(), line, 'free'))
    expect(plan.wishes().pinned.size).toBe(0)
    expect(planOf(notebook, addDays(packDay, 7)).shed.answer.value).toBeUndefined() // the plan of that weekday is another day's
  })

  test('is another plan once the device is an owner’s, and once it is one’s no longer', () => {
    const [owners, crews] = [{ ...answer, at: 8 }, { ...answer, at: 9 }]
    const kept = new Map<string, unknown>([['owners.packing.plan.4', owners], ['packing.plan.4', crews]])
    const member = signal({ role: 'owner' } as Member)
    const notebook = { kept: (name: string) => kept.get(name), sync: signal({ link: 'offline' } as SyncStatus), member } as unknown as Notebook
    const shown = () => planOf(notebook, packDay).shed.answer.value?.at
    expect(shown()).toBe(8)
    member.value = { role: 'crew' } as Member
    kept.delete('owners.packing.plan.4') // as the notebook does then
    expect(shown()).toBe(9)
    member.value = { role: 'owner' } as Member
    expect(shown()).toBeUndefined()
  })
})

test('a plan with amounts is none of a device that is no owner’s, wherever it was kept', () => {
  const amounts = { ...answer, money: { revenue: 1, bound: 1, top_down: 1, one_stem: {}, one_bunch: {}, net: {} } }
  const shown = (role: Member['role']) => {
    const notebook = { kept: () => amounts, sync: signal({ link: 'offline' } as SyncStatus), member: signal({ role } as Member) } as unknown as Notebook
    return planOf(notebook, packDay).shed.answer.value
  }
  expect([shown('owner'), shown('crew'), shown('viewer')]).toEqual([amounts, undefined, undefined])
})

test.each<[string, unknown, boolean]>([
  ['whole', answer, true],
  ['with money', { ...answer, money: { revenue: 1, bound: 1, top_down: 1, one_stem: { a: 1 }, one_bunch: {}, net: {} } }, true],
  ['without its lines', { ...answer, lines: undefined }, false],
  ['with a reason that this version does not know', { ...answer, lines: [{ ...answer.lines[0]!, short: { why: 'moon', missing: 1, ask: [], there: 1, to: [] } }] }, false],
  ['nothing', null, false],
])('an answer %s', (_, value, want) => {
  expect(isPackingAnswer(value)).toBe(want)
})

describe('the day that opens', () => {
  const on = (...days: readonly string[]): Fact[][] => [orderedFacts(lineWith()), ...days.map((day) => [
    ...orderFacts({ id: day as OrderID, buyer, due: day as Day, taken: '', note: '' }),
    ...orderedFacts(lineWith({ id: `line ${day}` as LineID, order: day as OrderID })),
  ])]
  test.each<[string, readonly string[], string, string | undefined]>([
    ['is today', ['2026-06-05'], '2026-06-04', '2026-06-04'],
    ['is the next', ['2026-06-20'], '2026-06-05', '2026-06-20'],
    ['is the last where none lies ahead', [], '2026-07-30', '2026-06-04'],
    ['is none where none was within a year', [], '2027-09-30', undefined],
  ])('%s', (_, days, today, want) => {
    const { sales } = farmSaid(...on(...days))
    expect(dayToOpen(daysDue(sales, today as Day), today as Day)).toBe(want)
  })

  test('is a standing order’s too, and not that of an order without lines', () => {
    const { sales } = farmSaid(
      [...orderedFacts(), ...acceptsFacts(buyer, 'c' as never, [])],
      standingFacts({ id: 's' as StandingID, buyer, from: '2026-06-01' as Day, until: '', days: '6' as Weekdays, every: 1, note: '' }),
      orderedFacts(lineWith({ id: 't' as LineID, order: '', standing: 's' as StandingID })),
    )
    expect(daysDue(sales, packDay)[0]).toBe('2026-06-06')
  })
})

describe('what became of the plan since', () => {
  const packed = (n: number): Fact[] => [
    ...packedFacts({ id: 'p' as PackedID, line: 'l' as LineID, buyer, due: packDay, date: packDay, person: '' }), packedCount('p' as PackedID, 'bunches', n),
  ]
  test.each<[string, readonly Fact[][], number]>([
    ['nothing', [], 0],
    ['bunches were packed', [packed(2)], 2],
    ['a line was added', [orderedFacts(lineWith({ id: 'm' as LineID }))], 0],
  ])('%s', (_, then, want) => {
    const { sales } = farmSaid(orderedFacts(lineWith()), ...then)
    expect(packedSince(answer, dueLines(sales, packDay))).toEqual(want)
  })

  test.each<[string, Partial<PackingAnswer>, readonly Fact[][], string]>([
    ['proven', {}, [], '**30 of 50 stems** placed; nothing places them for more.'],
    ['not proven', { proven: false }, [], '**30 of 50 stems** placed; the best that was found in five seconds.'],
    ['no stems', { stems: 0, placed: 0 }, [], '**No stems** with vase life left lie in the cooler for this day.'],
    ['partly packed', {}, [packed(1)], '**30 of 50 stems** placed; nothing places them for more. 1 of 4 bunches are packed.'],
    ['all packed', { placed: 0 }, [packed(5)], '**All is packed** for this day. 4 of 4 bunches are packed.'],
  ])('in a sentence: %s', (_, told, then, want) => {
    const { sales } = farmSaid(orderedFacts(lineWith()), ...then)
    expect(planSentence({ ...answer, ...told }, dueLines(sales, packDay))).toBe(want)
  })
})

test('the lines are those of the day, with what all devices packed of them', () => {
  expect(order).toBe('o')
  const { sales } = farmSaid(orderedFacts(lineWith()), packedFacts({ id: 'p' as PackedID, line: 'l' as LineID, buyer, due: packDay, date: packDay, person: '' }),
    [packedCount('p' as PackedID, 'bunches', 3)])
  expect(dueLines(sales, packDay).map((due) => [due.line.id, due.packed.bunches])).toEqual([['l', 3]])
  expect(dueLines(sales, addDays(packDay, 1))).toEqual([])
})
