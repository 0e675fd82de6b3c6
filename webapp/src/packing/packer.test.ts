// Packing by taps, over the phone's own notebook.

import fc from 'fast-check'
import { beforeEach, describe, expect, test, vi } from 'vitest'
import { packedCount } from '../crop/sale_facts'
import { cooler } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { Farm } from '../crop/nouns'
import { saleLooks } from '../crop/sale_looks'
import { farmSaid } from '../crop/testing/said'
import type { Role } from '../crop/member'
import type { Cents, Line, LineID } from '../crop/sale_nouns'
import type { Change } from '../log/change'
import { State } from '../log/state'
import { LiveFarm } from '../crop/live'
import type { FarmID } from '../crop/nouns'
import { planFraming } from '../sync/framing'
import { invoiceSaid } from '../crop/testing/billed'
import { entriesRead } from '../crop/testing/work'
import { packedSaid } from '../crop/testing/sold'
import { takingBack } from '../ui/take_back'
import { today } from '../ui/today'
import { dueLine, dueLines, packedOf } from './due_lines'
import { NotPacked, Packer } from './packer'
import type { PackingAnswer } from './packing_answer'
import { planOf } from './plans'
import { benchFacts, lineWith, lotOf, notebookOf, order, orderedFacts, packDay, planWith } from './testing/shop'

const [here, there] = ['0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c', '7c1f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'] as const
const [old, young] = [lotOf('2026-06-01'), lotOf('2026-06-03')]
const line = 'l' as LineID

beforeEach(() => { today.value = packDay })

async function shop(bunches = 4) {
  const { book, notebook } = await notebookOf(here, 'maren', ...orderedFacts(lineWith({ bunches })), ...benchFacts(old, 16), ...benchFacts(young, 30))
  const packer = new Packer(notebook)
  return { book, notebook, packer, due: () => dueLine(notebook.farm.peek().sales, order, line)!, now: () => packedOf(notebook.farm.peek().sales, line) }
}

describe('a tap on a line', () => {
  test('is one bunch of the oldest stems, in one operation', async () => {
    const { book, packer, due, now } = await shop()
    await packer.pack(due())
    await packer.pack(due())
    expect(now()).toEqual({ bunches: 2, stems: new Map([[lotCell(old), 16], [lotCell(young), 4]]) })
    book.apply(planFraming(book, true))
    const counts = [...book.own].flatMap(({ changes }) => changes).filter(({ type, op }) => type === 'packed' && op === 'count')
    expect(counts.map(({ field, value }) => [field, value])).toEqual(expect.arrayContaining([['bunches', 2], [lotCell(old), 16], [lotCell(young), 4]]))
    expect(counts.length).toBe(3) // taps coalesce until they are framed
  })

  test('counts each of several, however quick, and each knows what those before it took', async () => {
    const { packer, due, now } = await shop()
    const taps = await Promise.all([1, 2, 3, 4].map(() => packer.pack(due())))
    expect(taps).toEqual([true, true, true, true])
    expect(now()).toEqual({ bunches: 4, stems: new Map([[lotCell(old), 16], [lotCell(young), 24]]) })
  })

  test('packs nothing once the line is full, nor where stems are few, and says which', async () => {
    const full = await shop(2)
    expect(await Promise.all([1, 2, 3].map(() => full.packer.pack(full.due())))).toEqual([true, true, false])
    expect((full.packer.failure.value?.reason as NotPacked).why).toBe('full')
    const few = await shop(9)
    expect(await Promise.all([1, 2, 3, 4, 5].map(() => few.packer.pack(few.due())))).toEqual([true, true, true, true, false])
    expect((few.packer.failure.value?.reason as NotPacked).why).toBe('few')
    expect(few.now().bunches).toBe(4)
  })

  test('shows nothing where the disk fails, and keeps what stood', async () => {
    const { notebook, packer, due, now } = await shop()
    await packer.pack(due())
    const stored = notebook.recordInTurn.bind(notebook)
    notebook.recordInTurn = () => Promise.reject(new Error('no disk'))
    expect(await packer.pack(due())).toBe(false)
    notebook.recordInTurn = stored
    expect(now().bunches).toBe(1)
    expect(packer.bunches.value.length).toBe(1)
  })
})

describe('taking back', () => {
  test('gives back just the stems of the last bunch, and then those of the one before', async () => {
    const { packer, due, now } = await shop()
    await packer.pack(due())
    await packer.pack(due())
    expect(await packer.takeBack()).toBe(true)
    expect(now()).toEqual({ bunches: 1, stems: new Map([[lotCell(old), 10]]) })
    expect(await packer.takeBack()).toBe(true)
    expect(now()).toEqual({ bunches: 0, stems: new Map() })
    expect(await packer.takeBack()).toBe(false)
    expect((packer.failure.value?.reason as NotPacked).why).toBe('nothing')
  })

  test('works after the app was opened anew', async () => {
    const { notebook, packer, due, now } = await shop()
    await packer.pack(due())
    expect(await new Packer(notebook).takeBack()).toBe(true)
    expect(now().bunches).toBe(0)
  })

  test('takes back nothing below what is left, and lets go of what it never can', async () => {
    const { notebook, packer, due, now } = await shop()
    await packer.pack(due())
    const [bunch] = packer.bunches.value
    await notebook.record([packedCount(bunch!.packed, lotCell(old), 3)])
    expect(await packer.takeBack()).toBe(false)
    expect(now()).toEqual({ bunches: 1, stems: new Map([[lotCell(old), 3]]) })
    expect(packer.bunches.value).toEqual([])
  })
})

describe('taking one bunch of a line back', () => {
  const takeBack = async ({ notebook }: Awaited<ReturnType<typeof shop>>, of = line) => {
    let planned: ReturnType<typeof takingBack> = ''
    await notebook.recordInTurn(() => {
      planned = takingBack(notebook, of)
      return typeof planned === 'string' ? { facts: [], alongside: {} } : { facts: planned.facts, alongside: planned.alongside ?? {} }
    })
    return planned as ReturnType<typeof takingBack>
  }
  const undo = async ({ notebook }: Awaited<ReturnType<typeof shop>>, planned: ReturnType<typeof takingBack>) => {
    if (typeof planned === 'string' || typeof planned.undo !== 'function') throw new Error('nothing to undo')
    await notebook.recordInTurn(planned.undo)
  }

  test('gives back the stems of its last, which this device then remembers no more, and undone it is as before', async () => {
    const here = await shop()
    await here.packer.pack(here.due())
    await here.packer.pack(here.due())
    const before = here.now()
    const planned = await takeBack(here)
    expect(here.now()).toEqual({ bunches: 1, stems: new Map([[lotCell(old), 10]]) })
    here.packer.show()
    expect(here.packer.bunches.value.length).toBe(1)
    await undo(here, planned)
    here.packer.show()
    expect([here.now(), here.packer.bunches.value.length]).toEqual([before, 2])
    expect(await here.packer.takeBack()).toBe(true)
    expect(here.now()).toEqual({ bunches: 1, stems: new Map([[lotCell(old), 10]]) })
  })

  test('works on what another device packed, as a correction of it', async () => {
    const here = await shop()
    await here.notebook.record(packedSaid('far', line, packDay, 2, [[old, 16], [young, 4]]))
    const planned = await takeBack(here)
    expect(here.now()).toEqual({ bunches: 1, stems: new Map([[lotCell(old), 10]]) })
    await undo(here, planned)
    expect(here.now()).toEqual({ bunches: 2, stems: new Map([[lotCell(old), 16], [lotCell(young), 4]]) })
  })

  test.each([
    ['that an invoice has it', 2, /It stands on invoice 2026-B-0001: credit it there, or undo this\.$/],
    ['nothing of invoices that have only what stays', 1, /lie in the cooler again\.$/],
  ])('says %s', async (_, billed, said) => {
    const here = await shop()
    await here.notebook.record([...packedSaid('far', line, packDay, 2, [[old, 16], [young, 4]]), ...invoiceSaid('2026-B-0001', [{ line, bunches: billed }])])
    expect(await takeBack(here)).toMatchObject({ said: expect.stringMatching(said) as string })
  })

  test('of a line of which nothing is packed says so', async () => {
    expect(await takeBack(await shop())).toBe('Nothing is packed for this line any more. Nothing was changed.')
  })
})

test('a bunch by hand is of the lots told, also of more than is there, which then lies below nothing', async () => {
  const { notebook, packer, due, now } = await shop(1)
  expect(await packer.packOf(due(), new Map([[lotCell(old), 20]]))).toBe(true)
  expect(now()).toEqual({ bunches: 1, stems: new Map([[lotCell(old), 20]]) })
  expect(cooler(notebook.farm.peek(), packDay).map(({ left }) => left)).toEqual([-4, 30])
})

describe('a line to which nothing more is to go', () => {
  const [refused, pinned] = [{ refused: [line] }, { pinned: { [line]: 1 } }]
  interface Case {
    readonly name: string
    readonly plan: PackingAnswer
    readonly told?: Partial<Line>
    readonly taps: number
    readonly packed: number
    readonly why: NotPacked['why']
  }
  const forOthers = [{ lot: lotCell(young), stems: 30 }]
  const cases: readonly Case[] = [
    { name: 'was left out', plan: planWith([{}], refused), taps: 1, packed: 0, why: 'refused' },
    { name: 'was pinned', plan: planWith([{ more: 1, from: [{ lot: lotCell(old), stems: 10 }] }], pinned), taps: 2, packed: 1, why: 'pinned' },
    { name: 'is all or nothing, and its stems are meant for others', plan: planWith([{}, { line: 'm' as LineID, more: 3, from: forOthers }]), told: { whole: true, bunches: 2 }, taps: 1, packed: 0, why: 'whole' },
  ]
  const opened = async (role: Role, { plan, told }: Case) => {
    const facts = [...orderedFacts(lineWith({ ...told }), lineWith({ id: 'm' as LineID })), ...benchFacts(old, 16), ...benchFacts(young, 30)]
    const { notebook } = await notebookOf(here, { person: 'maren', role }, ...facts)
    planOf(notebook, packDay).shed.answer.value = plan
    const packer = new Packer(notebook)
    const due = dueLine(notebook.farm.peek().sales, order, line)!
    return { notebook, packer, due, bunches: () => packedOf(notebook.farm.peek().sales, line).bunches }
  }

  test.each(cases)('since it $name: it says so, and crew cannot go on', async (one) => {
    const { packer, due, bunches } = await opened('crew', one)
    for (let i = 0; i < one.taps; i++) await packer.pack(due)
    expect(bunches()).toBe(one.packed)
    expect((packer.failure.value?.reason as NotPacked).why).toBe(one.why)
    expect(packer.preview(due).held).toBe(one.why)
    expect([await packer.packAllTheSame(due), await packer.packOf(due, new Map([[lotCell(young), 10]])), bunches()]).toEqual([false, false, one.packed])
  })

  test.each(cases)('since it $name: an owner may overrule it, and is not asked at each bunch', async (one) => {
    const { packer, due, bunches } = await opened('owner', one)
    for (let i = 0; i < one.taps; i++) await packer.pack(due)
    expect([await packer.packAllTheSame(due), await packer.pack(due), bunches()]).toEqual([true, true, one.packed + 2])
    expect(packer.failure.value).toBeUndefined()
  })

  test('may be begun where all of it can be had', async () => {
    const { packer, due, bunches } = await opened('crew', { ...cases[2]!, plan: planWith([]) })
    expect([await packer.pack(due), await packer.pack(due), bunches()]).toEqual([true, true, 2])
  })
})

describe('stems that a line does not pay for', () => {
  const kept = planWith([{ kept: ['first'] }])
  const opened = async (role: Role) => {
    const facts = [...orderedFacts(lineWith({ price: 0 as Cents })), ...benchFacts(old, 16), ...benchFacts(lotOf('2026-06-03', { grade: 'second' }), 10)]
    const { notebook } = await notebookOf(here, { person: 'maren', role }, ...facts)
    planOf(notebook, packDay).shed.answer.value = kept
    return { packer: new Packer(notebook), due: dueLine(notebook.farm.peek().sales, order, line)! }
  }

  test('are not packed by crew, which knows no amounts: not by a tap, and not by hand', async () => {
    const { packer, due } = await opened('crew')
    expect([...packer.preview(due).stems ?? []]).toEqual([[lotCell(lotOf('2026-06-03', { grade: 'second' })), 10]])
    expect([await packer.pack(due), await packer.pack(due)]).toEqual([true, false])
    expect((packer.failure.value?.reason as NotPacked).why).toBe('few')
    expect(await packer.packOf(due, new Map([[lotCell(old), 10]]))).toBe(false)
    expect((packer.failure.value?.reason as NotPacked).why).toBe('kept')
  })

  test('are packed by hand where an owner chooses them', async () => {
    const { packer, due } = await opened('owner')
    expect(await packer.packOf(due, new Map([[lotCell(old), 10]]))).toBe(true)
  })
})

describe('the screen of a day, which asks for the next bunch of each of its lines', () => {
  /** Entries of maps and sets read to draw it: of so many lines with something packed, with so many lots that nobody wrote off. */
  const work = async (lines: number, past: number) => {
    const ids = Array.from({ length: lines }, (_, i) => `l${i}` as LineID)
    const facts = [
      ...orderedFacts(...ids.map((id) => lineWith({ id }))), ...benchFacts(old, 400), ...benchFacts(young, 400),
      ...ids.flatMap((id) => packedSaid(`p ${id}`, id, packDay, 1, [[old, 4], [young, 6]])),
      ...Array.from({ length: past }, (_, i) => benchFacts(lotOf('2026-04-01', { colour: `c${i}` }), 5)).flat(),
    ]
    const { notebook } = await notebookOf(here, 'maren', ...facts)
    const of = (some: number) => [{ lot: lotCell(old), stems: some }, { lot: lotCell(young), stems: 10 - some }]
    planOf(notebook, packDay).shed.answer.value = planWith(ids.map((id) => ({ line: id, packed: 1, had: of(4), more: 1, from: of(1) })))
    const packer = new Packer(notebook)
    const due = dueLines(notebook.farm.peek().sales, packDay)
    let found: (number | undefined)[] = []
    const read = entriesRead(() => { found = due.map((one) => packer.preview(one).stems?.get(lotCell(young))) })
    expect(found).toEqual(ids.map(() => 9))
    return read
  }

  test('looks through the lots once, not once a line', async () => {
    expect(await work(40, 200) - await work(40, 0)).toBe(200)
  })

  test('looks once at what was packed of each line', async () => {
    expect(await work(40, 0)).toBeLessThan(2.1 * await work(20, 0))
  })
})

test('somebody is at it from the tap until a moment after it was stored', async () => {
  const { packer, due } = await shop()
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
  const tap = packer.pack(due())
  expect(packer.tapping.value).toBe(true)
  await vi.advanceTimersByTimeAsync(100)
  await tap
  expect(packer.tapping.value).toBe(true)
  await vi.advanceTimersByTimeAsync(2_000)
  expect(packer.tapping.value).toBe(false)
  vi.useRealTimers()
})

/** The farm as it is once everybody has everything, in whatever order it came. */
function merged(changes: readonly Change[]): Farm {
  const state = new State()
  for (const change of changes) state.merge(change, change.stamp)
  const live = new LiveFarm('farm' as FarmID)
  live.replace(state)
  return live.farm.peek()
}

test('two tablets that pack offline add up, and no stem is sold twice without its lot showing below nothing', async () => {
  const facts = [...orderedFacts(lineWith({ bunches: 3 }), lineWith({ id: 'm' as LineID, bunches: 5 })), ...benchFacts(old, 23), ...benchFacts(young, 30)]
  const came = farmSaid(facts)
  let soldTwice = 0
  await fc.assert(fc.asyncProperty(fc.array(fc.record({
    who: fc.integer({ min: 0, max: 1 }), line: fc.constantFrom('l', 'm'), back: fc.boolean(),
  }), { maxLength: 24 }), fc.infiniteStream(fc.nat()), async (taps, shuffle) => {
    const phones = [await notebookOf(here, 'maren', ...facts), await notebookOf(there, 'joaquin', ...facts)]
    const packers = phones.map(({ notebook }) => new Packer(notebook))
    for (const { who, line: id, back } of taps) {
      const due = dueLines(phones[who]!.notebook.farm.peek().sales, packDay).find((one) => one.line.id === id)!
      await (back ? packers[who]!.takeBack() : packers[who]!.pack(due))
    }
    const changes = phones.flatMap(({ book }, i) => {
      book.apply(planFraming(book, true))
      // What came over the bench, and what is ordered, both know of one.
      return [...book.own].flatMap((operation) => operation.changes).filter(({ type }) => i === 0 || type === 'packed')
    })
    const order = changes.map((change) => [shuffle.next().value as number, change] as const).sort((a, b) => a[0] - b[0])
    const farm = merged(order.map(([, change]) => change).concat(changes)) // what came twice counts once
    const alone = phones.map(({ notebook }) => notebook.farm.peek().sales)
    let packed = 0
    for (const id of ['l', 'm'] as LineID[]) {
      const all = packedOf(farm.sales, id)
      expect(all.bunches).toBe(alone.reduce((sum, sales) => sum + packedOf(sales, id).bunches, 0))
      const stems = [...all.stems.values()].reduce((sum, n) => sum + n, 0)
      expect(stems).toBe(all.bunches * 10)
      packed += stems
    }
    const left = cooler(farm, packDay)
    const below = left.filter((lot) => lot.left < 0)
    soldTwice += below.length
    expect(left.reduce((sum, lot) => sum + lot.left, 0)).toBe(53 - packed)
    const looked = saleLooks(farm, packDay).flatMap((look) => (look.kind === 'oversold' ? [look.lot] : []))
    expect(looked.sort()).toEqual(below.map(({ id }) => lotCell(id)).sort())
    const over = saleLooks(farm, packDay).flatMap((look) => (look.kind === 'over_packed' ? [look.line] : []))
    expect(over).toEqual(dueLines(farm.sales, packDay).filter((due) => due.packed.bunches > due.line.bunches).map((due) => due.line.id).sort())
  }), { numRuns: 60 })
  expect(soldTwice).toBeGreaterThan(0)
  expect(cooler(came, packDay).reduce((sum, lot) => sum + lot.left, 0)).toBe(53)
}, 120_000)
