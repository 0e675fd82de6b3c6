// Messages of every release are still read: the captures in testdata/legacy are never changed.

import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { bytesToHex, hexToBytes } from '@noble/hashes/utils.js'
import { describe, expect, test } from 'vitest'
import { Packer } from '../log/batch_pack'
import { Unpacker } from '../log/batch_unpack'
import { canonical } from '../log/canonical'
import type { Hello } from './messages'
import { helloText, pingText, readMessage } from './messages'

const folder = join(import.meta.dirname, '../../../testdata/legacy')

interface Captured {
  name: string
  from: 'phone' | 'shed'
  kind: string
  text?: string
  hex?: string
  changes?: string[]
  orders?: ([number, number] | null)[]
  arrival?: number
  newest?: number
  last?: string
}

const known = ['refuse', 'welcome', 'ack', 'pong', 'news']

const writers: Record<string, (message: Hello) => string> = {
  hello: message => helloText({ ...message, own: '' }), // it is in the cursor already
  ping: () => pingText,
}

for (const file of readdirSync(folder)) {
  const { messages } = JSON.parse(readFileSync(join(folder, file), 'utf8')) as { messages: Captured[] }
  describe(file, () => {
    const news = new Unpacker()
    for (const message of messages.filter(m => m.from === 'shed')) {
      test(`${message.kind}: ${message.name}`, () => {
        expect(known).toContain(message.kind)
        const read = readMessage(message.text ?? hexToBytes(message.hex!), news)
        if (message.text) expectText(read as unknown as Record<string, unknown>, message.text)
        else expectNews(read, message)
      })
    }

    for (const { kind, name, text } of messages.filter(m => m.from === 'phone' && m.text)) {
      test(`${kind}: ${name} is what this phone writes`, () => expect(writers[kind]?.(JSON.parse(text!))).toBe(text))
    }

    test('what a phone pushed then is read with the names of one conversation', () => {
      const pushes = new Unpacker()
      const packer = new Packer()
      for (const { hex, changes } of messages.filter(m => m.kind === 'push')) {
        const batch = pushes.read(hexToBytes(hex!).subarray(1))
        expect(batch.changes.map(canonical)).toEqual(changes)
        expect(bytesToHex(packer.pack(batch))).toBe(hex!.slice(2))
      }
    })
  })
}

function expectNews(read: ReturnType<typeof readMessage>, { changes, orders, arrival, newest, last }: Captured): void {
  if (read?.t !== 'news') throw new Error('it is read as no news')
  expect({ arrival: read.arrival, newest: read.newest, last: read.last }).toEqual({ arrival, newest, last })
  expect(read.batches.flatMap(({ batch }) => batch.changes.map(canonical))).toEqual(changes)
  expect(read.batches.flatMap(({ batch }) => batch.orders?.map(order => [order!.l, order!.c]) ?? [])).toEqual(orders)
}

/** Every member that this version knows is there as it was. */
function expectText(read: Record<string, unknown>, text: string): void {
  const was = JSON.parse(text) as Record<string, unknown>
  const names: Record<string, string> = { staged_hash: 'stagedHash' }
  for (const [name, value] of Object.entries(was)) {
    if (name === 'later') continue
    expect(read[names[name] ?? name]).toEqual(asRead(name, value))
  }
}

function asRead(name: string, value: unknown): unknown {
  if (name === 'orders') return (value as [number, number, number][]).map(([seq, l, c]) => ({ seq, order: { l, c } }))
  if (name === 'refused') return (value as { seq: number; code: string }[]).map(({ seq, code }) => ({ seq, code }))
  return value
}
