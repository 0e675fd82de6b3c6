// An owner changes what is ordered while a tablet in the shed packs, and neither hears of the other before both are done.

import fc from 'fast-check'
import { beforeEach, expect, test } from 'vitest'
import { dueOf } from '../crop/due'
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
import type { Deed } from './deeds'
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
