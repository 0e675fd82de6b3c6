import { describe, expect, it, test } from 'vitest'
import { asPrinted } from '../colourcard/as_printed'
import type { CardSeen } from '../colourcard/characterise'
import { type CardPhoto, foundIn, goodPhotos, patchTyped } from './card_photo'

test.each([
  ['49,5', '0', '0', { L: 49.5, a: 0, b: 0 }],
  ['62.1', '−1.2', '3', { L: 62.1, a: -1.2, b: 3 }],
  ['', '0', '0', 'missing'],
  ['fifty', '0', '0', 'missing'],
  ['12', '0', '0', 'lightness'],
  ['98', '0', '0', 'lightness'],
  ['50', '60', '40', 'chroma'],
] as const)('a patch of %s %s %s is %o', (L, a, b, want) => {
  expect(patchTyped({ L, a, b })).toEqual(want)
})

describe('photos of a card', () => {
  const seen = (L: number | undefined): CardPhoto['state'] => ({
    seen: { reference: '', patches: L === undefined ? undefined : asPrinted.patches.map((lab) => ({ ...lab, L })), ses: asPrinted.patches.map(() => ({ L: 1, a: 1, b: 1 })), problems: [] } satisfies CardSeen,
  })
  const photos = (...states: CardPhoto['state'][]) => states.map((state, id) => ({ id, state }))

  it('come to the mean of those that tell something', () => {
    const all = photos(seen(50), 'measuring', seen(undefined), { failed: 'unreadable' }, seen(51))
    expect(foundIn(all, 'card')?.patches[3]?.L).toBeCloseTo(50.5)
    expect(goodPhotos(all)).toBe(2)
  })

  it('come to nothing where none does', () => {
    expect(foundIn(photos('measuring', seen(undefined)), 'patch')).toBeUndefined()
    expect(goodPhotos(photos('measuring', seen(undefined)))).toBe(0)
  })
})
