import { describe, expect, test } from 'vitest'
import { visitFacts } from '../crop/facts'
import type { Day, PlantID, Visit, VisitID } from '../crop/nouns'
import type { Device } from '../db/device_db'
import type { Contents, Store } from '../db/records'
import { Book } from '../sync/book'
import { planRecord } from '../sync/drafting'
import { FarmNotebook } from '../sync/farm_notebook'
import { planFraming } from '../sync/framing'
import { Keeper } from '../sync/keeper'
import { planReincarnation } from '../sync/reincarnation'
import { Session } from '../sync/session'
import { planAck } from '../sync/settling'
import { recordTotal } from './correct'
import { TapQueue } from './taps'

const nothing: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }
const device = { id: '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6', farm: 'farm', person: 'p1' } as unknown as Device
const store: Store = { commit: () => new Promise(done => setTimeout(done, 1)), close: () => {} }
const next = 'aaaaaaaa-0000-4000-8000-000000000000'
const plant = 'k1' as PlantID
const day = '2026-05-28' as Day
const cell = 'first|0|0'

/**
 * Three stems stand in a cell, not framed yet, framed, or acknowledged too; a new identity is on its way to
 * the disk, under which an older shed is told again also of what was acknowledged.
 */
function renewing(how: string) {
  const book = new Book('farm', nothing, '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c')
  const session = new Session(book, { device: device.id, person: () => 'p1', newIncarnation: () => '' })
  const notebook = new FarmNotebook(book, session, device, () => 2, () => {})
  const keeper = new Keeper(book, store, touched => notebook.applied(touched))
  notebook.attach(keeper, () => {})

  const visit: Visit = {
    id: notebook.visitID(plant, day, 'cut'), plant, bed: '', date: day, purpose: 'cut', person: notebook.person.peek(),
    flush: 'spring', toOrder: false, planting: '', age: 0, stage: '', counts: [], beside: [],
  }
  book.apply(planRecord(book, [...visitFacts(visit), said(visit.id, 3)], 'p1', 1))
  if (how !== 'not framed') book.apply(planFraming(book))
  const ack = { t: 'ack', seq: book.pen.seq, staged: 0, orders: [], held: [], refused: [], arrival: book.pen.seq } as const
  if (how.startsWith('acknowledged')) book.apply(planAck(book, ack, 'life', 1))
  book.apply([{ kind: 'pen', pen: { ...book.pen, filled: 'epoch' } }])

  const epoch = how === 'acknowledged by an older shed' ? 'another epoch' : 'epoch'
  const welcome = { epoch, resume: true, seq: book.pen.seq } as Parameters<typeof planReincarnation>[2]
  const renewed = keeper.inTurn(async () => keeper.commit(planReincarnation(book, next, welcome)))
  return { book, notebook, visit, renewed }
}

function said(visit: VisitID, value: number) {
  return { scope: 'field', op: 'count', type: 'visit', id: visit, field: cell, value } as const
}

describe.each(['not framed', 'framed', 'acknowledged', 'acknowledged by an older shed'])('while the phone takes a new identity and what was counted is %s', how => {
  test('a tap that waits adds to what stands then', async () => {
    const { book, notebook, visit, renewed } = renewing(how)
    const count = (value: number) => said(visit.id, value)
    const tap = new TapQueue(notebook).push({ visit: visit.id, cell, add: 1, most: 999, before: () => [], count })
    await Promise.all([renewed, tap])
    expect(book.pen.incarnation).toBe(next)
    expect(notebook.cell(visit.id, cell).total).toBe(4)
  })

  test.each([5, 2, 3])('a total of %d that waits is what stands then', async wanted => {
    const { book, notebook, visit, renewed } = renewing(how)
    await Promise.all([renewed, recordTotal(notebook, visit, cell, wanted)])
    expect(book.pen.incarnation).toBe(next)
    expect(notebook.cell(visit.id, cell).total).toBe(wanted)
    expect(notebook.looks.value).toEqual([])
  })
})
