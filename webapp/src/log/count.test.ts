// A count cell whose writers were several incarnations, and corrections that were sent again.

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Fact, Stamp, Value } from './change'
import { count, ownCount } from './count'
import { compareStamps } from './order'
import type { Entity, Entry } from './state'
import { compareEntries, State } from './state'

const cell = '|0|0'

function incarnationOf(n: number): string {
  return `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`
}

interface Written {
  readonly incarnation: string
  readonly seq?: number
  readonly op?: 'count' | 'correct'
  readonly value: number
  readonly extra?: Fact['extra']
  readonly order: Stamp
}

function entityOf(all: readonly Written[]): Entity {
  const state = new State()
  for (const { order, extra, ...one } of all) {
    state.merge({
      seq: 1, op: 'count', ...one, ...(extra && { extra }), stamp: order, rest: 0, person: '', scope: 'field', type: 'visit', id: 'v1', field: cell,
    }, order)
  }
  return state.entity('visit', 'v1')!
}

function at(l: number): Stamp {
  return { l, c: 0 }
}

describe('the writers of a cell', () => {
  /** What one entry names as its former identity: no matter how the chain goes, or whether it is a ring. */
  const former: fc.Arbitrary<Value | undefined> = fc.oneof(
    { weight: 8, arbitrary: fc.nat(11).map(n => `${incarnationOf(n)}:1`) },
    { weight: 2, arbitrary: fc.constant(undefined) },
    { weight: 1, arbitrary: fc.constantFrom<Value>('no identity', 5) },
  )
  const entries = fc.array(fc.tuple(former, fc.nat(9)), { minLength: 1, maxLength: 9 }).map(all =>
    all.map(([name, l], i): Written =>
      ({ incarnation: incarnationOf(i), value: 2 ** i, order: at(l), ...(name !== undefined && { extra: { former: name } }) })))

  test('are those to which each incarnation leads by itself', () => {
    fc.assert(fc.property(fc.shuffledSubarray([...Array(9).keys()], { minLength: 9 }), entries, (order, all) => {
      // Ids in no order, so that the smallest of a ring stands anywhere in it.
      const entity = entityOf(all.map((one, i) => ({ ...one, incarnation: incarnationOf(order[i]!) })))
      const found = plainly(entity)
      expect(count(entity, cell)).toMatchObject({ total: found.total, twice: found.twice })
      for (let n = 0; n < 12; n++) expect(ownCount(entity, cell, incarnationOf(n))).toBe(found.own(incarnationOf(n)))
    }), { numRuns: 2000 })
  })

  test.each([
    ['a chain', undefined],
    ['a ring', `${incarnationOf(9_999)}:1`],
  ])('that follow one another in %s of thousands are one', (_, first) => {
    const all = Array.from({ length: 10_000 }, (_, i): Written => {
      const name = i > 0 ? `${incarnationOf(i - 1)}:1` : first
      return { incarnation: incarnationOf(i), value: i, order: at(i + 1), ...(name && { extra: { former: name } }) }
    })
    const entity = entityOf(all)
    expect(count(entity, cell)).toMatchObject({ total: 9_999, twice: true })
    expect(ownCount(entity, cell, incarnationOf(0))).toBe(9_999)
  })

  /** The same read off the words of PROTOCOL.md, section 3: each incarnation is followed by itself. */
  function plainly(entity: Entity) {
    const standing = [...entity.slots.values()].map(slot => slot.entry).sort((a, b) => compareEntries(b, a))
    const named = new Map(standing.map(entry => [entry.incarnation, formerIncarnation(entry)]))
    const writerOf = (incarnation: string) => {
      const passed = [incarnation]
      for (let one = named.get(incarnation); one !== undefined; one = named.get(one)) {
        const seen = passed.indexOf(one)
        if (seen >= 0) return passed.slice(seen).sort()[0]!
        passed.push(one)
      }
      return passed.at(-1)!
    }
    const newestOf = (incarnation: string) => standing.find(entry => writerOf(entry.incarnation) === writerOf(incarnation))!
    const counted = new Set(standing.map(entry => newestOf(entry.incarnation)))
    return {
      total: [...counted].reduce((sum, entry) => sum + (entry.value as number), 0),
      twice: counted.size < standing.length,
      own: (incarnation: string) => (named.has(incarnation) ? newestOf(incarnation).value : 0),
    }
  }

  function formerIncarnation({ extra }: Entry): string | undefined {
    const name = extra?.['former']
    return typeof name === 'string' ? /^(.+):1$/.exec(name)?.[1] : undefined
  }
})

describe('a correction that was sent again', () => {
  const [first, second] = [incarnationOf(1), incarnationOf(2)]
  const stems: Written = { incarnation: first, value: 10, order: at(1) }
  const former = `${first}:2`
  const again: Written = { incarnation: second, op: 'correct', value: 2, extra: { former }, order: at(2) }

  test('is named by the identity under which it was first framed', () => {
    expect(count(entityOf([stems, again]), cell).tips).toEqual([former])
  })

  const held: Written = { incarnation: first, seq: 2, op: 'correct', value: 2, order: at(2) }
  test.each<[string, Written, string]>([
    ['its own identity, and is held under it', again, `${second}:1`],
    ['its first identity, and is held under a later one', again, former],
    ['its first identity, and is held under that', held, former],
  ])('is followed by one that names it by %s', (_, standing, name) => {
    const next: Written = { incarnation: second, seq: 2, op: 'correct', value: 3, extra: { after: [name] }, order: at(3) }
    const entity = entityOf([stems, standing, next])
    expect(compareStamps(standing.order, next.order)).toBeLessThan(0)
    expect(count(entity, cell)).toEqual({ total: 15, tips: [`${second}:2`], missed: false, twice: false })
  })
})
