import { describe, expect, it } from 'vitest'
import type { Day, PlantID, VisitID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { type Action, added, type Journal, lastOf, without } from './journal'

const day = '2026-06-03' as Day

function count(plant: string, stems: number): Action {
  return { kind: 'count', plant: plant as PlantID, visit: 'v' as VisitID, grade: '', length: untoldLength, stems, toOrder: false }
}

describe('what taking back undoes', () => {
  it('is the newest action', () => {
    const [a, b] = [count('A', 4), count('B', 2)]
    expect(lastOf(added(added(undefined, a, day), b, day), day, new Set())).toBe(b)
  })

  it('is the one before, while the newest is on its way back', () => {
    const [a, b] = [count('A', 4), count('B', 2)]
    expect(lastOf(added(added(undefined, a, day), b, day), day, new Set([b]))).toBe(a)
  })

  it('is nothing on a new day', () => {
    expect(lastOf(added(undefined, count('A', 4), day), '2026-06-04' as Day, new Set())).toBeUndefined()
  })

  it('leaves the actions recorded meanwhile', () => {
    const [a, b, c] = [count('A', 4), count('B', 2), count('C', 1)]
    const journal = [a, b, c].reduce<Journal | undefined>((all, one) => added(all, one, day), undefined)
    expect(without(journal, b)?.actions).toEqual([a, c])
  })

  it('reaches back thirty actions', () => {
    let journal: Journal | undefined
    for (let i = 1; i <= 40; i++) journal = added(journal, count('A', i), day)
    expect(journal?.actions.length).toBe(30)
    expect(journal?.actions[0]).toEqual(count('A', 11))
  })
})
