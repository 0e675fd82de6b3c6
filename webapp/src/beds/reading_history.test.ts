// What history tells of a reading, over a real log.

import { expect, it } from 'vitest'
import { readingCorrected, readingFacts, withdrawnFact } from '../crop/facts'
import type { PersonID, ReadingID } from '../crop/nouns'
import { farmWith, readingWith } from '../crop/testing/nouns'
import type { Fact } from '../log/change'
import { happened } from '../log/happened'
import { State } from '../log/state'
import { readingLines } from './reading_history'

const people = ['Ana', 'Ben'].map((name) => [name.toLowerCase() as PersonID, { id: name.toLowerCase() as PersonID, name }] as const)
const farm = { ...farmWith({}), people: new Map(people) }
const id = 'r' as ReadingID

it.each<[string, readonly Fact[], string[]]>([
  ['who took it alone, where nobody said otherwise', [], ['Ana: Measured']],
  ['who said another stage', readingCorrected(id, { stage: 'fading' }), ['Ana: Measured', 'Ben: Said to be: fading']],
  ['who said another light', readingCorrected(id, { light: 'sun' }), ['Ana: Measured', 'Ben: Light said to be: sun']],
  ['who took it away', [withdrawnFact('reading', id, true)], ['Ana: Measured', 'Ben: Taken away']],
  ['who brought it back', [withdrawnFact('reading', id, false)], ['Ana: Measured', 'Ben: Brought back']],
  ['nothing of a stage that this version has no word for', [{ ...readingCorrected(id, { stage: 'full' })[0]!, value: 'wilted' }], ['Ana: Measured']],
])('the history of a reading tells %s', (_, then, lines) => {
  const state = new State()
  let seq = 0
  const say = (person: string, l: number, facts: readonly Fact[]) => {
    for (const fact of facts) state.merge({ ...fact, incarnation: '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6', seq: ++seq, stamp: { l, c: 0 }, rest: 0, person }, { l, c: 0 })
  }
  say('ana', 1000, readingFacts(readingWith({ id })))
  say('ben', 2000, then)
  expect(readingLines(farm, happened(state.entity('reading', id)!)).map(({ text, who }) => `${who.split(' · ')[0]}: ${text}`)).toEqual(lines)
})
