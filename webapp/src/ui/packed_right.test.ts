import { signal } from '@preact/signals'
import { expect, it } from 'vitest'
import type { Packed } from '../crop/sale_nouns'
import type { CellReading, Look, Notebook } from '../sync/notebook'
import { packedFactsFor } from './packed_right'

const packed = { id: 'pa' } as Packed
const look: Look = { kind: 'missed', type: 'packed', id: 'pa', field: 'bunches' }

it.each<[string, CellReading, readonly Look[], number | undefined, unknown[]]>([
  ['another number is a correction that says what it saw', { own: 5, total: 5, tips: [] }, [], 3, [{ op: 'correct', scope: 'shed', type: 'packed', field: 'bunches', value: -2, extra: { saw: 5 } }]],
  ['what was not typed over stays, however much was packed meanwhile', { own: 5, total: 7, tips: [] }, [], undefined, []],
  ['what was not typed over and wants a look was looked at', { own: 5, total: 7, tips: ['a'] }, [look], undefined, [{ op: 'correct', value: 0, extra: { saw: 7, after: ['a'] } }]],
  ['the same number is nothing', { own: 5, total: 5, tips: [] }, [], 5, []],
  ['the same number where it wants a look says that somebody looked', { own: 5, total: 5, tips: ['a', 'b'] }, [look], 5, [{ op: 'correct', value: 0, extra: { saw: 5, after: ['a', 'b'] } }]],
])('%s', (_, reading, looks, wanted, want) => {
  const notebook = { cell: () => reading, looks: signal(looks) } as unknown as Notebook
  expect(packedFactsFor(notebook, packed, new Map([['bunches', wanted]]))).toMatchObject(want)
})
