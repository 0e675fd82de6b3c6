import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { markFacts, standFacts } from './facts'
import { formatFlag, formatNote, formatSeen } from './marks'
import type { Day, Flag, Note, PersonID, PlantID, Season } from './nouns'
import { farmSaid } from './testing/said'

const k = 'k' as PlantID
const day = (n: number) => `2026-05-0${n}` as Day
const flag = (kind: Flag['kind'], n: number): Flag => ({ kind, day: day(n), by: 'tilda/2' as PersonID })
const note = (text: string, n: number): Note => ({ day: day(n), by: '', text })
const read = (...operations: Fact[][]) => farmSaid(...operations).plants.get(k)

describe('flags', () => {
  const raise = (one: Flag) => markFacts(k, 'flags', formatFlag(one), true)
  const clear = (one: Flag) => markFacts(k, 'flags', formatFlag(one), false)

  it.each<[string, Fact[][], Flag[], Flag['kind'][]]>([
    ['stand with who raised them, the newest first', [raise(flag('leaning', 1)), raise(flag('disease', 3)), raise(flag('lift', 2))], [flag('disease', 3), flag('lift', 2), flag('leaning', 1)], []],
    ['that are cleared are kept', [raise(flag('leaning', 1)), clear(flag('leaning', 1))], [], ['leaning']],
    ['raised again on another day are others', [raise(flag('leaning', 1)), clear(flag('leaning', 1)), raise(flag('leaning', 2))], [flag('leaning', 2)], ['leaning']],
    ['of a later version, or of no day, are passed over', [markFacts(k, 'flags', 'sings/2026-05-01/', true), markFacts(k, 'flags', 'lift/2026-02-30/', true), raise(flag('mother', 1))], [flag('mother', 1)], []],
  ])('%s', (_, said, standing, cleared) => {
    const plant = read(...said)
    expect(plant?.flags.map(({ kind, day: on, by }) => ({ kind, day: on, by }))).toEqual(standing)
    expect(plant?.flagsCleared.map(({ kind }) => kind)).toEqual(cleared)
  })
})

it('notes keep slashes and lines in their text, and go when they are taken away', () => {
  const [old, long] = [note('open/closed', 1), note('first\nsecond/third', 2)]
  const said = [old, long, note('a slip', 3)].map((one) => markFacts(k, 'notes', formatNote(one), true))
  expect(read(...said, markFacts(k, 'notes', formatNote(note('a slip', 3)), false), markFacts(k, 'notes', 'no day/x', true))?.notes).toEqual([long, old])
})

it.each<[string, Fact[], unknown]>([
  ['a stand is read by season', standFacts(k, 2026 as Season, { day: day(1), what: 'weak' }), [[2026, { day: day(1), what: 'weak' }]]],
  ['a stand that was taken back is none', standFacts(k, 2026 as Season, undefined), []],
  ['a stand of no day is none', [{ scope: 'field', op: 'set', type: 'plant', id: k, field: 'stand.2026', value: formatSeen({ day: '2026-13-01' as Day, what: 'gone' }) }], []],
])('%s', (_, facts, stands) => {
  expect([...read([{ scope: 'field', op: 'set', type: 'plant', id: k, field: 'code', value: 'K' }], facts)?.stands ?? []]).toEqual(stands)
})
