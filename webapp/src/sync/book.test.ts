import { describe, expect, test } from 'vitest'

import type { Contents } from '../db/records'
import { canonical } from '../log/canonical'
import type { Change, Scope } from '../log/change'
import { Book } from './book'

const incarnation = '6f2c1a1e-3b1d-4c5e-8f60-718293a4b5c6'
const stamp = { l: 1_780_000_000_000, c: 0 }

const invoice: Change = {
  incarnation, seq: 1, stamp, rest: 0, person: 'ana', scope: 'money', op: 'set', type: 'paper', id: 'p1',
  field: 'text', value: '12 bunches', extra: {},
}

function bookOf(scopes: readonly Scope[], settled: number): Book {
  const contents: Contents = {
    pen: { incarnation, formers: [], seq: 1, settled, clock: stamp, draft: 0 },
    reading: { generation: 1, cursor: { epoch: 'e', scopes, arrival: 1, last: 'x:1/y' }, staging: null, levelAt: 0 },
    drafts: [], chunks: [], kept: new Map(),
    own: [{
      incarnation, first: 1, texts: [canonical(invoice)], hash: '', refused: [], held: [], moved: false,
      orders: [settled === 0 ? null : stamp],
    }],
  }
  return new Book('farm', contents, incarnation)
}

describe('what a person wrote of the money', () => {
  test.each<[string, readonly Scope[], number, boolean]>([
    ['shows while they may read it', ['field', 'money'], 1, true],
    ['shows no more once they may not', ['field'], 1, false],
    ['shows until the shed has judged it', ['field'], 0, true],
  ])('%s', (_, scopes, settled, shows) => {
    expect(bookOf(scopes, settled).entity('paper', 'p1') !== undefined).toBe(shows)
  })
})
