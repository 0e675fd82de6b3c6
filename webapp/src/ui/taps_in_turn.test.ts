import { expect, test } from 'vitest'
import type { PersonID, VisitID } from '../crop/nouns'
import type { Device } from '../db/device_db'
import type { Contents, Store } from '../db/records'
import { TapQueue } from './taps'
import { Book } from '../sync/book'
import { planRecord } from '../sync/drafting'
import { FarmNotebook } from '../sync/farm_notebook'
import { planFraming } from '../sync/framing'
import { Keeper } from '../sync/keeper'
import { planReincarnation } from '../sync/reincarnation'
import { Session } from '../sync/session'
import { planAck } from '../sync/settling'

const nothing: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }
const device = { id: '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6', farm: 'farm', person: 'p1' } as unknown as Device
const store: Store = { commit: () => new Promise(done => setTimeout(done, 1)), close: () => {} }

test('a tap that waits while the phone takes a new identity adds to what stands then', async () => {
  const book = new Book('farm', nothing, '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c')
  const visit = 'v1' as VisitID
  const said = (value: number) => ({ scope: 'field', op: 'count', type: 'visit', id: visit, field: 'first|0|0', value }) as const
  book.apply(planRecord(book, [said(3)], 'p1', 1))
  book.apply(planFraming(book))
  book.apply(planAck(book, { t: 'ack', seq: 1, staged: 0, orders: [], held: [], refused: [], arrival: 1 }, 'life', 1))

  const session = new Session(book, { device: device.id, person: () => 'p1', newIncarnation: () => '' })
  const notebook = new FarmNotebook(book, session, device, () => 2, () => {})
  const keeper = new Keeper(book, store, touched => notebook.applied(touched))
  notebook.attach(keeper, () => {})
  expect(notebook.person.value).toBe('p1' as PersonID)

  const next = 'aaaaaaaa-0000-4000-8000-000000000000'
  const welcome = { epoch: 'e', resume: false, seq: 1 } as Parameters<typeof planReincarnation>[2]
  const renewed = keeper.inTurn(async () => keeper.commit(planReincarnation(book, next, welcome)))
  const tap = new TapQueue(notebook).push({ visit, cell: 'first|0|0', add: 1, most: 999, before: () => [], count: said })
  await Promise.all([renewed, tap])
  expect(book.pen.incarnation).toBe(next)
  expect(notebook.cell(visit, 'first|0|0').total).toBe(4)
})
