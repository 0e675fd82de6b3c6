// What a plant's entity says of its photos.

import { describe, expect, test } from 'vitest'
import type { Change } from '../log/change'
import { State } from '../log/state'
import { photoFacts } from './facts'
import type { PhotoHash, PlantID } from './nouns'
import { readPlant } from './read'

const k1 = 'k1' as PlantID
const [a, b, c] = ['a', 'b', 'c'].map(digit => digit.repeat(64)) as [PhotoHash, PhotoHash, PhotoHash]

/** Puts and takes away in turn, a second apart, from second 1 on. */
function after(...said: readonly (readonly [PhotoHash, boolean])[]) {
  const state = new State()
  said.forEach(([photo, on], i) => {
    const stamp = { l: 1000 * (i + 1), c: 0 }
    for (const fact of photoFacts(k1, photo, on)) {
      state.merge({ ...fact, incarnation: 'i', seq: i + 1, stamp, rest: 0, person: 'p' } satisfies Change, stamp)
    }
  })
  const { photos, photosAway } = readPlant(state.entity('plant', k1)!)
  return { photos, photosAway }
}

describe('photos of a plant', () => {
  test('come the newest first, with the moment at which each was put there', () => {
    expect(after([b, true], [a, true], [c, true])).toEqual({
      photos: [{ hash: c, at: 3000 }, { hash: a, at: 2000 }, { hash: b, at: 1000 }], photosAway: [],
    })
  })

  test('that were taken away are known as such, and can be put back', () => {
    expect(after([a, true], [b, true], [a, false])).toEqual({ photos: [{ hash: b, at: 2000 }], photosAway: [{ hash: a, at: 3000 }] })
    expect(after([a, true], [a, false], [a, true])).toEqual({ photos: [{ hash: a, at: 3000 }], photosAway: [] })
  })
})
