import { describe, expect, test } from 'vitest'
import type { PhotoHash, Plant, PlantID } from '../crop/nouns'
import { beyondKept, isOnlyHere, mostKept, neverNamed, newestKept, stands, waits } from './keeping'
import type { OwnPhoto } from './photo_db'

const hash = 'a'.repeat(64) as PhotoHash
const day = 24 * 3_600_000

function photo(parts: Partial<OwnPhoto> = {}): OwnPhoto {
  return { hash, plants: ['k1' as PlantID], size: 10, at: 0, state: 'waiting', refusal: '', ...parts }
}

/** A farm of plants that show a photo, or from which it was taken away, or neither. */
function farm(plants: Readonly<Record<string, 'shows' | 'away' | 'neither'>>) {
  const plantOf = (how: string) => ({ photos: how === 'shows' ? [{ hash, at: 1 }] : [], photosAway: how === 'away' ? [{ hash, at: 1 }] : [] }) as unknown as Plant
  return { plants: new Map(Object.entries(plants).map(([id, how]) => [id as PlantID, plantOf(how)])) }
}

describe('a photo', () => {
  test.each([
    ['that its plant shows', farm({ k1: 'shows' }), true],
    ['that was taken away', farm({ k1: 'away' }), false],
    ['whose plant is not here', farm({}), false],
    ['that another plant shows, to which it was not put here', farm({ k1: 'away', k2: 'shows' }), false],
  ])('%s stands: %#', (_, here, want) => {
    expect(stands(photo(), here)).toBe(want)
  })

  test('put to two plants stands as long as one shows it', () => {
    expect(stands(photo({ plants: ['k1', 'k2'] as PlantID[] }), farm({ k1: 'away', k2: 'shows' }))).toBe(true)
  })

  test.each([
    ['waits at its plant', photo(), farm({ k1: 'shows' }), true],
    ['was refused', photo({ refusal: 'type' }), farm({ k1: 'shows' }), true],
    ['waits, and its change was not kept', photo(), farm({ k1: 'neither' }), true],
    ['waits, and its plant is not here', photo(), farm({}), true],
    ['was taken away from one plant and stands at another', photo({ plants: ['k1', 'k2'] as PlantID[] }), farm({ k1: 'away', k2: 'shows' }), true],
    ['was taken away', photo(), farm({ k1: 'away' }), false],
    ['was sent', photo({ state: 'sent' }), farm({ k1: 'shows' }), false],
  ])('that %s is only here: %#', (_, one, here, want) => {
    expect(isOnlyHere(one, here)).toBe(want)
  })

  test('waits where it stands, was not sent and not refused', () => {
    const here = farm({ k1: 'shows' })
    expect(waits(photo(), here)).toBe(true)
    expect(waits(photo({ state: 'sent' }), here)).toBe(false)
    expect(waits(photo({ refusal: 'type' }), here)).toBe(false)
  })
})

describe('letting go', () => {
  const named = (n: number) => String(n).padStart(64, '0') as PhotoHash

  test('keeps the newest that were sent, and all that wait', () => {
    const sent = Array.from({ length: newestKept + 2 }, (_, n) => photo({ hash: named(n), at: n, state: 'sent' }))
    const waiting = photo({ hash: named(999), at: -5 })
    expect(beyondKept([waiting, ...sent])).toEqual([named(1), named(0)])
  })

  test('keeps so many bytes', () => {
    const half = mostKept / 2
    const sent = [3, 2, 1].map(n => photo({ hash: named(n), at: n, size: half, state: 'sent' }))
    expect(beyondKept(sent)).toEqual([named(1)])
  })
})

describe('a photo that no change ever named', () => {
  const none = new Set<string>()
  test.each<[string, Partial<OwnPhoto>, ReturnType<typeof farm>, ReadonlySet<string>, number, boolean]>([
    ['is dropped after a day', {}, farm({ k1: 'neither' }), none, day + 1, true],
    ['is kept for a day', {}, farm({ k1: 'neither' }), none, day, false],
    ['is kept where its plant is not known', {}, farm({}), none, 9 * day, false],
    ['is kept where one of its plants is not known', { plants: ['k1', 'k2'] as PlantID[] }, farm({ k1: 'neither' }), none, 9 * day, false],
    ['is another where the plant shows it', {}, farm({ k1: 'shows' }), none, 9 * day, false],
    ['is another where it was taken away', {}, farm({ k1: 'away' }), none, 9 * day, false],
    ['is another where its change was refused', {}, farm({ k1: 'neither' }), new Set([hash]), 9 * day, false],
    ['is another where it was sent', { state: 'sent' }, farm({ k1: 'neither' }), none, 9 * day, false],
  ])('%s', (_, parts, here, refused, now, dropped) => {
    expect(neverNamed([photo(parts)], here, refused, now)).toEqual(dropped ? [hash] : [])
  })
})
