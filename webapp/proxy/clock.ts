// Time in these tests: a phone's second is a twentieth of a real one, so that its waits of up to half a
// minute pass within a seed. The shed lives in real time.

import { vi } from 'vitest'
import { WebSocket as NodeSocket } from 'ws'
import type { Surroundings } from '../src/sync/line'

const scale = 20
const realTimeout = globalThis.setTimeout

/** Waits real milliseconds. */
export function pause(ms: number): Promise<void> {
  return new Promise(resolve => realTimeout(resolve, ms))
}

/** Lets the waits of whatever asks the global setTimeout, as a Line does, pass as quickly as its clock. */
export function hasten(): void {
  vi.stubGlobal('setTimeout', (work: (...told: unknown[]) => void, ms = 0, ...told: unknown[]) => realTimeout(work, ms / scale, ...told))
}

/** What is around a phone that carries a cookie and whose wall clock is off by the skew, in milliseconds. */
export function surroundings(cookie: string, skew: number): Surroundings {
  return {
    socket: url => openSocket(url, cookie),
    moment: () => ({ now: performance.now() * scale, wall: Date.now() + skew }),
  }
}

/** Node 20 has no websocket of its own; this one is used through the browser's interface alone. */
function openSocket(url: string, cookie: string): WebSocket {
  const socket = new NodeSocket(url, { headers: { cookie } })
  socket.on('error', () => {}) // 'close' follows, as in a browser
  return socket as unknown as WebSocket
}
