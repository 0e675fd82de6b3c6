// Turns at the records: taps before frames, and the browser between frames.

import { expect, test } from 'vitest'
import type { Contents, Store } from '../db/records'
import { Book } from './book'
import { Keeper } from './keeper'

const nothing: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }
const store: Store = { commit: () => Promise.resolve(), close: () => {} }

function keeper(): Keeper {
  return new Keeper(new Book('f', nothing, '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'), store, () => {})
}

test('while many frames wait, what the browser has to do is done between them', async () => {
  const done: string[] = []
  const turns = keeper()
  const frames = Array.from({ length: 4 }, (_, i) => turns.inTurn(async () => void done.push(`frame ${i}`)))
  setImmediate(() => done.push('browser'))
  await Promise.all(frames)
  expect(done[0]).toBe('frame 0')
  expect(done).toContain('browser')
})

test('a tap that comes while frames wait is next', async () => {
  const done: string[] = []
  const turns = keeper()
  const frame = (name: string) => turns.inTurn(async () => void done.push(name))
  const tap = () => turns.inTurn(async () => void done.push('tap'), true)
  await Promise.all([frame('frame 0').then(tap), frame('frame 1'), frame('frame 2')])
  expect(done).toEqual(['frame 0', 'tap', 'frame 1', 'frame 2'])
})
