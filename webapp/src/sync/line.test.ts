// The line when something is wrong in the app itself: it is said, and the sync goes on.

import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Contents, Store } from '../db/records'
import { Book } from './book'
import { Keeper } from './keeper'
import { Line } from './line'
import { Session } from './session'
import { mintIncarnation } from './testing/phone'
import { ShedModel } from './testing/shed_model'
import { SocketModel } from './testing/socket_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const nothing: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }
const memory: Store = { commit: () => Promise.resolve(), close: () => {} }

beforeEach(() => void vi.useFakeTimers())
afterEach(() => {
  vi.useRealTimers()
  vi.restoreAllMocks()
})

/** A line to a shed; each socket is made by the maker at its turn, the last one for all further ones. */
function lineOver(makers: ((shed: ShedModel) => SocketModel)[]) {
  const shed = new ShedModel(farm, 'epoch 1', Date.now())
  const book = new Book(farm, nothing, mintIncarnation())
  const session = new Session(book, { device: 'd', person: () => '', newIncarnation: mintIncarnation })
  const socket = () => (makers.length > 1 ? makers.shift()! : makers[0]!)(shed) as unknown as WebSocket
  const moment = () => ({ now: Date.now(), wall: Date.now() })
  const links: string[] = []
  const line = new Line(session, new Keeper(book, memory, () => {}), 'ws://shed/sync', { socket, moment }, () => links.push(session.link), () => {})
  line.tell({ kind: 'tick' })
  return { session, line, links }
}

const whole = (shed: ShedModel) => new SocketModel(shed)
const broken: [string, (shed: ShedModel) => SocketModel][] = [
  ['no socket can be made', () => { throw new DOMException('blocked', 'SecurityError') }],
  ['a socket cannot send', shed => Object.assign(whole(shed), { send: () => { throw new Error('cannot send') } })],
]

test.each(broken)('where %s, it is said and tried again after half a minute', async (_, maker) => {
  const said = vi.spyOn(console, 'error').mockImplementation(() => {})
  const { session, line, links } = lineOver([maker, whole])
  await vi.advanceTimersByTimeAsync(5_000)
  expect(said).toHaveBeenCalledTimes(1)
  expect([session.link, links.at(-1)]).toEqual(['offline', 'offline'])
  await vi.advanceTimersByTimeAsync(24_000)
  expect(session.link).toBe('offline')
  await vi.advanceTimersByTimeAsync(6_000)
  expect([session.link, links.at(-1)]).toEqual(['live', 'live'])
  expect(said).toHaveBeenCalledTimes(1)
  line.close()
})
