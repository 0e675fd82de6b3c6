import { describe, expect, it } from 'vitest'
import { cooler } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { Day } from '../crop/nouns'
import type { Fact } from '../log/change'
import { benchSaid, lotOf } from '../crop/testing/sold'
import { farmSaid } from '../crop/testing/said'
import { stemsTyped } from '../ui/stems_typed'
import { type Said, writeOff, writeOffPast } from './write_off'

const date = '2026-06-10' as Day
const said: Said = { date, person: '', reason: 'broken', what: '' }
const [lot, old, older] = [lotOf('b', '2026-06-08'), lotOf('b', '2026-06-01'), lotOf('a', '2026-05-20')]
const begun = [benchSaid('v', lot, 17), benchSaid('w', old, 5), benchSaid('x', older, 8)]
const ids = () => {
  let n = 0
  return () => `s${++n}`
}
const held = (...more: Fact[][]) => cooler(farmSaid(...begun, ...more), date).map(({ left }) => left)

describe('stems of a lot are written off', () => {
  it.each<[string, number | 'all', number[] | undefined]>([
    ['all that is left', 'all', [8, 5]],
    ['a number', 7, [8, 5, 10]],
    ['the last', 17, [8, 5]],
    ['not more than there are', 18, undefined],
    ['not none', 0, undefined],
  ])('%s', (_, stems, want) => {
    const off = writeOff(farmSaid(...begun), lotCell(lot), stems, said, ids())
    expect(off && held([...off.facts])).toEqual(want)
    if (off) expect(held([...off.facts], [...off.undo])).toEqual([8, 5, 17])
  })

  it('not of a lot that is not there', () => {
    expect(writeOff(farmSaid(), lotCell(lot), 'all', said, ids())).toBeUndefined()
  })
})

it('everything past its life is written off at once, and brought back at once', () => {
  const off = writeOffPast(farmSaid(...begun), said, ids())!
  expect([off.lots, off.stems, held([...off.facts]), held([...off.facts], [...off.undo])]).toEqual([2, 13, [17], [8, 5, 17]])
  expect(writeOffPast(farmSaid(benchSaid('v', lot, 17)), said, ids())).toBeUndefined()
})

it.each([['1', 1], [' 17 ', 17], ['99999', 99_999], ['0', undefined], ['', undefined], ['-3', undefined], ['1.5', undefined], ['123456', undefined], ['a', undefined]])('%j is %s stems', (text, want) => {
  expect(stemsTyped(text)).toBe(want)
})
