// An owner changes what is ordered while a tablet in the shed packs, and neither hears of the other before both are done.

import fc from 'fast-check'
import { beforeEach, expect, test } from 'vitest'
import { addDays } from '../crop/day'
import type { Deed } from '../crop/deed'
import { dueBetween, dueOf } from '../crop/due'
import { LiveFarm } from '../crop/live'
import type { Farm, FarmID, Millimetres } from '../crop/nouns'
import { openOf } from '../crop/open_lines'
import { bunchesPacked, lineOf } from '../crop/over_packed'
import { bunchFacts, buyerFacts, lineFacts, standingFacts } from '../crop/sale_facts'
import { saleLooks } from '../crop/sale_looks'
import type { Bunch, LineID, OrderID, Sales, StandingID, Weekdays } from '../crop/sale_nouns'
import type { Change, Fact } from '../log/change'
import { State } from '../log/state'
import { dueLines } from '../packing/due_lines'
import { Packer } from '../packing/packer'
import { benchFacts, buyer, lineWith, lotOf, notebookOf, packDay } from '../packing/testing/shop'
import { deliveriesOf } from '../papers/day_papers'
import { planFraming } from '../sync/framing'
import { today } from '../ui/today'
import { orderAsPacked } from './as_packed'
import { deleteBuyerAndOpen } from './buyer_deeds'
import { cancelDelivery, changeFrom, endStanding } from './order_deeds'

const [owner, tablet] = ['0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c', '7c1f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'] as const
const standing = { id: 'st' as StandingID, buyer, from: '2026-05-28' as typeof packDay, until: '' as const, days: '4' as Weekdays, every: 1, skips: [], note: '' }
const templates = ['a', 'b'].map((id) => lineWith({ id: id as LineID, order: '', standing: standing.id, bunches: 3 }))
const todays = `st@${packDay}` as OrderID

const ground: readonly Fact[] = [
  ...bunchFacts({ id: 'ten' as Bunch['id'], name: 'Ten', stems: 10, grade: '', length: 0 as Millimetres }), ...buyerFacts(buyer, { name: 'Studio' }),
  ...standingFacts(standing), ...templates.flatMap(lineFacts), ...benchFacts(lotOf('2026-06-03'), 400),
]

/** What an owner may do to a standing order on the day of a delivery. */
const deeds: Readonly<Record<string, (sales: Sales) => Deed>> = {
  end: (sales) => endStanding(sales, sales.standings.get(standing.id)!, '2026-06-03' as typeof packDay),
  change: (sales) => changeFrom(sales, sales.standings.get(standing.id)!, {
    head: { ...standing, id: 'next' as StandingID, from: packDay }, lines: [lineWith({ id: 'n' as LineID, order: '', standing: 'next' as StandingID, bunches: 1 })],
  }),
  cancel: (sales) => cancelDelivery(sales, dueOf(sales, todays)!),
  delete: (sales) => deleteBuyerAndOpen(sales, { id: buyer }, openOf(sales, packDay, (id) => id === buyer), packDay),
}

beforeEach(() => { today.value = packDay })

/** The farm as it is once everybody has everything, in whatever order it came, and then more is said. */
function merged(changes: readonly Change[], ...later: readonly (readonly Fact[])[]): Farm {
  const state = new State()
  for (const change of changes) state.merge(change, change.stamp)
  later.forEach((facts, i) => facts.forEach((fact, n) => {
    const stamp = { l: 9_000_000 + i, c: 0 }
    state.merge({ ...fact, incarnation: '9c1f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c', seq: 1 + i * 1_000 + n, stamp, rest: 0, person: 'maren' }, stamp)
  }))
  const live = new LiveFarm('farm' as FarmID)
  live.replace(state)
  return live.farm.peek()
}

function packedLines({ sales }: Farm): LineID[] {
  return [...sales.packedOf.keys()].filter((line) => bunchesPacked(sales, line) > 0)
}

/** Lines of which more is packed than anybody orders. */
function contradicted(farm: Farm): LineID[] {
  return packedLines(farm).filter((line) => bunchesPacked(farm.sales, line) > (lineOf(farm.sales, line)?.bunches ?? 0)).sort()
}

function looked(farm: Farm): LineID[] {
  return saleLooks(farm, packDay).flatMap((look) => (look.kind === 'over_packed' ? [look.line] : [])).sort()
}

const step = fc.oneof(
  { weight: 6, arbitrary: fc.record({ who: fc.integer({ min: 0, max: 1 }), does: fc.constantFrom('a', 'a', 'b', 'back') }) },
  { weight: 1, arbitrary: fc.record({ who: fc.constant(0), does: fc.constantFrom(...Object.keys(deeds), 'undo') }) },
)

test('nothing that was packed is lost: it is ordered, or needs a look that orders it again', async () => {
  const found = { kept: 0, contradicted: 0 }
  await fc.assert(fc.asyncProperty(fc.array(step, { maxLength: 14 }), fc.infiniteStream(fc.nat()), async (steps, shuffle) => {
    const phones = [await notebookOf(owner, 'maren', ...ground), await notebookOf(tablet, 'joaquin', ...ground)]
    for (const { book } of phones) book.apply(planFraming(book, true)) // both know it from before
    const packers = phones.map(({ notebook }) => new Packer(notebook))
    let undo: readonly Fact[] = []
    for (const { who, does } of steps) {
      const { book, notebook } = phones[who]!
      const { sales } = notebook.farm.peek()
      const deed = deeds[does]
      const line = dueLines(sales, packDay).find((one) => one.line.id === `${does}@${packDay}`)
      if (does === 'undo') await notebook.record(undo)
      else if (deed && undo.length === 0) {
        const done = deed(sales)
        const before = packedLines(notebook.farm.peek())
        const operations = book.drafts.size
        await notebook.record(done.facts)
        expect(book.drafts.size - operations, 'one operation').toBeLessThanOrEqual(1)
        expect(before.filter((id) => !lineOf(notebook.farm.peek().sales, id)), 'known to be packed, so still ordered').toEqual([])
        undo = done.undo
      } else if (does === 'back') await packers[who]!.takeBack()
      else if (line) await packers[who]!.pack(line)
      if (does === 'undo') undo = []
    }
    const changes = phones.flatMap(({ book }, i) => {
      book.apply(planFraming(book, true))
      const all = [...book.own].flatMap((operation) => operation.changes)
      return i === 0 ? all : all.slice(ground.length)
    })
    const order = changes.map((change) => [shuffle.next().value as number, change] as const).sort((a, b) => a[0] - b[0])
    const farm = merged(order.map(([, change]) => change).concat(changes)) // what came twice counts once
    for (const id of ['a', 'b'].map((one) => `${one}@${packDay}` as LineID)) {
      expect(bunchesPacked(farm.sales, id)).toBe(phones.reduce((sum, { notebook }) => sum + bunchesPacked(notebook.farm.peek().sales, id), 0))
    }
    const lines = contradicted(farm)
    expect(looked(farm)).toEqual(lines)
    found.contradicted += lines.length
    found.kept += packedLines(farm).length - lines.length

    const settling: (readonly Fact[])[] = []
    for (const line of lines) settling.push(orderAsPacked(merged(changes, ...settling).sales, line)?.facts ?? [])
    const settled = merged(changes, ...settling)
    expect(looked(settled)).toEqual([])
    // Each has its order again, and so its slip, its note and its bill.
    const delivered = deliveriesOf(settled, packDay).flatMap((one) => (one.order === '' ? [] : one.lines)).filter(({ bunches }) => bunches > 0)
    expect(delivered.map(({ id, line, bunches }) => [id, line !== undefined, bunches]).sort())
      .toEqual(packedLines(settled).sort().map((id) => [id, true, bunchesPacked(settled.sales, id)]))
  }), { numRuns: Number(process.env['CORYMB_RUNS'] ?? 60) })
  expect(Math.min(found.kept, found.contradicted)).toBeGreaterThan(0)
}, 120_000)

/** What two owners did to one standing order, neither hearing of the other, once both have everything; the second did it later. */
async function changedByBoth(...changes: readonly ((sales: Sales) => Deed)[]): Promise<{ readonly farm: Farm; readonly all: readonly Change[] }> {
  const phones = [await notebookOf(owner, 'maren', ...ground), await notebookOf(tablet, 'ana', ...ground)]
  const all: Change[] = []
  for (const [i, { book, notebook }] of phones.entries()) {
    book.apply(planFraming(book, true))
    await notebook.record(changes[i]!(notebook.farm.peek().sales).facts)
    book.apply(planFraming(book, true))
    const own = [...book.own].flatMap((operation) => operation.changes).slice(i === 0 ? 0 : ground.length)
    all.push(...own.map((change) => (i === 0 ? change : { ...change, stamp: { ...change.stamp, l: change.stamp.l + 1_000 } })))
  }
  return { farm: merged(all), all }
}

function bunchesOf({ sales }: Farm, from: string, to: string): string[] {
  return dueBetween(sales, from as typeof packDay, to as typeof packDay).map(({ day, lines }) => `${day}: ${lines.map(({ bunches }) => bunches).join(' ')}`)
}

/** The first line with so many bunches, and the second where it is told. */
function changedTo(from: string, ...bunches: readonly number[]): (sales: Sales) => Deed {
  return (sales) => changeFrom(sales, sales.standings.get(standing.id)!, {
    head: { ...standing, from: from as typeof packDay }, lines: templates.slice(0, bunches.length).map((line, i) => ({ ...line, bunches: bunches[i]! })),
  })
}

test.each([
  ['both lines', [5, 2], [6, 4], ['2026-05-28: 3 3', '2026-06-04: 6 4', '2026-06-11: 6 4']],
  ['and the later leaves a line out', [5, 2], [6], ['2026-05-28: 3 3', '2026-06-04: 6', '2026-06-11: 6']],
  ['and the earlier left a line out', [5], [6, 4], ['2026-05-28: 3 3', '2026-06-04: 6 4', '2026-06-11: 6 4']],
])('a standing order that two owners change from one day on comes once, as the later has it: %s', async (_, first, second, want) => {
  const { farm } = await changedByBoth(changedTo(packDay, ...first), changedTo(packDay, ...second))
  expect(bunchesOf(farm, '2026-05-28', '2026-06-11')).toEqual(want)
  expect(saleLooks(farm, packDay)).toEqual([])
})

test.each([['2026-06-04', '2026-06-11'], ['2026-06-11', '2026-06-04']])('changed from %s here and from %s there it comes twice, and needs a look that settles it', async (here, there) => {
  const { farm, all } = await changedByBoth(changedTo(here, 5, 5), changedTo(there, 6, 6))
  let now = farm
  const settling: (readonly Fact[])[] = []
  for (let looks = twice(now); looks[0] && settling.length < 3; looks = twice(now)) {
    const { earlier, later } = looks[0]
    settling.push(endStanding(now.sales, earlier, addDays(later.from, -1)).facts)
    now = merged(all, ...settling)
  }
  expect(settling.length).toBeGreaterThan(0)
  const [of4, of11] = here === '2026-06-04' ? ['5 5', '6 6'] : ['6 6', '5 5']
  expect(bunchesOf(now, '2026-05-28', '2026-06-18')).toEqual(['2026-05-28: 3 3', `2026-06-04: ${of4}`, `2026-06-11: ${of11}`, `2026-06-18: ${of11}`])
})

function twice(farm: Farm) {
  return saleLooks(farm, packDay).flatMap((look) => (look.kind === 'comes_twice' ? [look] : []))
}

test('a change that was taken back and made once more from the same day says all of it anew', async () => {
  const { notebook } = await notebookOf(owner, 'maren', ...ground)
  const sales = () => notebook.farm.peek().sales
  const before = bunchesOf(notebook.farm.peek(), '2026-05-28', '2026-06-11')
  const skipped = changeFrom(sales(), { ...sales().standings.get(standing.id)!, skips: ['2026-06-11' as typeof packDay] }, { head: { ...standing, from: packDay }, lines: templates })
  await notebook.record(skipped.facts)
  expect(bunchesOf(notebook.farm.peek(), '2026-05-28', '2026-06-11')).toEqual(before.slice(0, 2))
  await notebook.record(skipped.undo)
  expect(bunchesOf(notebook.farm.peek(), '2026-05-28', '2026-06-11')).toEqual(before)
  await notebook.record(changedTo(packDay, 7)(sales()).facts)
  expect(bunchesOf(notebook.farm.peek(), '2026-05-28', '2026-06-11')).toEqual(['2026-05-28: 3 3', '2026-06-04: 7', '2026-06-11: 7'])
  const again = changedTo(packDay, 8, 1)(sales()) // and the one that is there is changed
  await notebook.record(again.facts)
  expect(bunchesOf(notebook.farm.peek(), '2026-06-04', '2026-06-04')).toEqual(['2026-06-04: 8 1'])
  await notebook.record(again.undo)
  expect(bunchesOf(notebook.farm.peek(), '2026-06-04', '2026-06-04')).toEqual(['2026-06-04: 7'])
})
