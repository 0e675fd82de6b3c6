import { expect, test } from 'vitest'
import type { Change } from './change'
import { happened } from './happened'
import { State } from './state'

type Said = Partial<Change> & Pick<Change, 'op' | 'field' | 'value'>

/** What a state tells after these changes, a second apart, each by ana on phone i unless told. */
function after(...said: readonly Said[]) {
  const state = new State()
  said.forEach((one, i) => {
    const stamp = { l: 1000 * (i + 1), c: 0 }
    state.merge({ incarnation: 'i', seq: i + 1, stamp, rest: 0, person: 'ana', scope: 'field', type: 'visit', id: 'v', ...one }, stamp)
  })
  return happened(state.entity('visit', 'v')!).map(({ op, field, value, before, after, at, person }) => [at / 1000, person, op, field, value, before, after])
}

test('a count and its corrections are told in turn, with what each correction saw and made of it', () => {
  expect(after(
    { op: 'set', field: 'date', value: '2026-06-03' },
    { op: 'count', field: '|0|0', value: 7 },
    { op: 'correct', field: '|0|0', value: -2, extra: { saw: 7 }, incarnation: 'j', person: 'ben' },
    { op: 'correct', field: '|0|0', value: 4, extra: { saw: 5, after: ['j:3'] }, person: 'ana' },
  )).toEqual([
    [1, 'ana', 'set', 'date', '2026-06-03', 0, 0],
    [2, 'ana', 'count', '|0|0', 7, 0, 7],
    [3, 'ben', 'correct', '|0|0', -2, 7, 5],
    [4, 'ana', 'correct', '|0|0', 4, 5, 9],
  ])
})

test('of what was set or counted again the last stands', () => {
  expect(after(
    { op: 'set', field: 'withdrawn', value: 1 }, { op: 'count', field: '|0|0', value: 7 },
    { op: 'count', field: '|0|0', value: 8 }, { op: 'set', field: 'withdrawn', value: 0, person: 'ben' },
  )).toEqual([[3, 'ana', 'count', '|0|0', 8, 0, 8], [4, 'ben', 'set', 'withdrawn', 0, 0, 0]])
})

test('two writers are told apart, and one that was sent again under another identity is told once', () => {
  expect(after(
    { op: 'count', field: '|0|0', value: 7 }, { op: 'count', field: '|0|0', value: 2, incarnation: 'j', person: 'ben' },
    { op: 'count', field: '|0|0', value: 7, incarnation: 'k', extra: { former: 'i:1' } },
  ).map(([, person, , , value]) => [person, value])).toEqual([['ben', 2], ['ana', 7]])
})

test('elements of sets are told as they were put in and taken out', () => {
  expect(after({ op: 'add', field: 'beside', value: 'w' }, { op: 'remove', field: 'beside', value: 'w' }))
    .toEqual([[2, 'ana', 'remove', 'beside', 'w', 0, 0]])
})
