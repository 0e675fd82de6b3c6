// Which changes share a push, and where a large operation is cut.

import { describe, expect, test } from 'vitest'
import { maxElements } from '../log/batch'
import { Unpacker } from '../log/batch_unpack'
import type { Fact, Value } from '../log/change'
import { maxFrameBytes } from '../log/check'
import { Book } from './book'
import { planRecord } from './drafting'
import { planFraming } from './framing'
import { Outbox } from './outbox'

const incarnation = '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'
const list = Array.from({ length: 1000 }, (_, i) => `m${i}`)

function set(id: string, value: Value, extra: Record<string, Value> = {}): Fact {
  return { scope: 'field', op: 'set', type: 'plant', id, field: 'marks', value, extra }
}

/** The pushes in which the operations go out, as the shed reads them. */
function pushesOf(operations: readonly Fact[][]) {
  const book = new Book('farm', { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }, incarnation)
  operations.forEach((facts, i) => book.apply(planRecord(book, facts, 'p1', 100 + i)))
  book.apply(planFraming(book, true))
  const outbox = new Outbox(book, incarnation, 0)
  const unpacker = new Unpacker()
  const pushes = []
  for (let data = outbox.next(Infinity); data; data = outbox.next(Infinity)) {
    const { changes } = unpacker.read(data.subarray(1))
    pushes.push(changes)
    outbox.acknowledged({ seq: 0, staged: changes.at(-1)!.seq } as Parameters<Outbox['acknowledged']>[0])
  }
  return pushes
}

function many(n: number, name = 'k'): Fact[] {
  return Array.from({ length: n }, (_, i) => set(`${name}${i}`, list))
}

describe('an operation of few changes', () => {
  test.each<[string, Fact[], number[]]>([
    ['as many elements of lists as a frame holds goes out whole', [...many(65), set('last', list.slice(0, maxElements - 65_000))], [66]],
    ['one element more goes out in parts', [...many(65), set('last', list.slice(0, maxElements - 64_999))], [65, 1]],
    ['elements among its extra parts goes out in parts', Array.from({ length: 10 }, (_, i) =>
      set(`k${i}`, list, Object.fromEntries([...'abcdefghi'].map(name => [name, list])))), [6, 4]],
    ['very many elements goes out in parts', many(200), [65, 65, 65, 5]],
  ])('and %s', (_, facts, want) => {
    const pushes = pushesOf([facts])
    expect(pushes.map(changes => changes.length)).toEqual(want)
    expect(pushes.flat().map(change => change.id)).toEqual(facts.map(fact => fact.id))
  })

  test('and very many bytes goes out in parts as large as the shed asks', () => {
    const bulky = Array.from({ length: 600 }, (_, i) => set(`k${i}`, i % 2 ? list : 'x'.repeat(8000), { more: 'x'.repeat(8000) }))
    const pushes = pushesOf([bulky])
    const sizes = pushes.map(changes => changes.reduce((n, { value, extra }) => n + JSON.stringify([value, extra]).length, 0))
    expect(pushes.length).toBeGreaterThan(1)
    expect(sizes.slice(0, -1).every(bytes => bytes > maxFrameBytes / 4 && bytes < maxFrameBytes)).toBe(true)
  })
})

test('a part shares its push with no other operation', () => {
  const pushes = pushesOf([[set('before', 1)], many(66), [set('behind', 1)]])
  expect(pushes.map(changes => changes.map(change => change.id).at(-1))).toEqual(['before', 'k64', 'k65', 'behind'])
})
