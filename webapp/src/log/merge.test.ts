// The merge as properties: any order, repetition or split of the same changes gives the same state.

import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Change, Op, Stamp, Value } from './change'
import { dump } from './dump'
import { looks } from './look'
import { compareText } from './order'
import { entityName, State } from './state'

const incarnations = ['0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c', '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6']

type Ordered = readonly [Change, Stamp]

/** Stamps from a small range, so that equal orders come about. */
const stamp: fc.Arbitrary<Stamp> = fc.record({ l: fc.integer({ min: 1, max: 5 }), c: fc.integer({ min: 0, max: 1 }) })
const said: fc.Arbitrary<{ op: Op; field: string; value: Value }> = fc.oneof(
  fc.record({ op: fc.constantFrom('set', 'shade'), field: fc.constantFrom('name', 'withdrawn'), value: fc.constantFrom<Value>('x', 'é', 1, 0) }),
  fc.record({ op: fc.constantFrom('add', 'remove'), field: fc.constant('parents'), value: fc.constantFrom('k1', 'k2') }),
  fc.record({ op: fc.constantFrom('count', 'correct'), field: fc.constantFrom('|0|0', 'extra|500|600'), value: fc.integer({ min: -3, max: 9 }) }),
)
const identity = fc.tuple(fc.constantFrom(...incarnations), fc.integer({ min: 1, max: 30 })).map(([i, seq]) => `${i}:${seq}`)
const extra = fc.oneof(
  { weight: 3, arbitrary: fc.constant(undefined) },
  { weight: 1, arbitrary: fc.record({ after: fc.array(identity, { maxLength: 2 }) }) },
  { weight: 1, arbitrary: fc.record({ former: identity }) },
)

/** The changes of some phones: seq runs within each incarnation, as it must. */
const history: fc.Arbitrary<Ordered[]> = fc
  .array(fc.tuple(fc.constantFrom(...incarnations), fc.constantFrom('v1', 'v2'), said, extra, stamp), { maxLength: 30 })
  .map(list => {
    const seqs = new Map<string, number>()
    return list.map(([incarnation, id, what, more, order]): Ordered => {
      const seq = (seqs.get(incarnation) ?? 0) + 1
      seqs.set(incarnation, seq)
      const base = { incarnation, seq, stamp: order, rest: 0, person: '', scope: 'field' as const, type: 'visit', id }
      return [{ ...base, ...what, ...(more && { extra: more }) }, order]
    })
  })

function merged(changes: readonly Ordered[]): State {
  const state = new State()
  for (const [change, order] of changes) state.merge(change, order)
  return state
}

function whole(state: State): string {
  return `${dump(state)}\n${JSON.stringify(looks(state))}`
}

test('any order of arrival and any repetition give the same state', () => {
  const shuffled = history.chain(changes => fc.tuple(
    fc.constant(changes),
    fc.shuffledSubarray([...changes, ...changes], { minLength: 2 * changes.length }),
  ))
  fc.assert(fc.property(shuffled, ([changes, arrived]) => {
    expect(whole(merged(arrived))).toBe(whole(merged(changes)))
  }), { numRuns: 300 })
})

test('states of any two parts, put together slot by slot, are the state of the whole', () => {
  const split = history.chain(changes => fc.tuple(fc.constant(changes), fc.array(fc.boolean(), { minLength: changes.length, maxLength: changes.length })))
  fc.assert(fc.property(split, ([changes, left]) => {
    const together = merged(changes.filter((_, i) => left[i]))
    for (const entity of merged(changes.filter((_, i) => !left[i]))) {
      for (const { key, entry } of entity.slots.values()) together.put(entity.key, key, entry)
    }
    expect(whole(together)).toBe(whole(merged(changes)))
  }), { numRuns: 300 })
})

test('texts are ordered as their UTF-8 bytes', () => {
  const texts = fc.string({ unit: fc.constantFrom('a', 'é', '\uE000', '\uFF5E', '😀', '\u{10FFFF}') })
  fc.assert(fc.property(texts, texts, (a, b) => {
    expect(Math.sign(compareText(a, b))).toBe(Buffer.compare(Buffer.from(a), Buffer.from(b)))
  }))
})

test('an entity is found by type and id and by nothing else', () => {
  const state = merged([[{
    incarnation: incarnations[0]!, seq: 1, stamp: { l: 1, c: 0 }, rest: 0, person: '', scope: 'field', op: 'set',
    type: 'bed', id: 'b1', field: 'name', value: 'North',
  }, { l: 1, c: 0 }]])
  expect(state.entity('bed', 'b1')).toBe(state.named(entityName('bed', 'b1')))
  expect(state.entity('b', 'edb1')).toBeUndefined()
})
