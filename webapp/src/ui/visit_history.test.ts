// What history tells of a visit, over a real log.

import { beforeEach, describe, expect, it } from 'vitest'
import { countFact, plantCell, toOrderFact, visitFacts } from '../crop/facts'
import { type PlantID, type PersonID, untoldLength, type VisitID } from '../crop/nouns'
import { farmWith, visitWith } from '../crop/testing/nouns'
import type { Fact } from '../log/change'
import { happened } from '../log/happened'
import { State } from '../log/state'
import { saysHowCut } from './correct'
import { historyLines } from './visit_history'

const people = [['ana', 'Ana'], ['ben', 'Ben']].map(([id, name]) => [id as PersonID, { id: id as PersonID, name: name as string }] as const)
const farm = { ...farmWith({}), people: new Map(people) }
const visit = visitWith({ id: 'v' as VisitID, plant: 'p' as PlantID, purpose: 'cut', person: 'ana' as PersonID })

let state: State
let seq: number

beforeEach(() => {
  state = new State()
  seq = 0
})

/** Merges what a person said at one moment. */
function say(person: string, l: number, ...facts: readonly Fact[]): void {
  for (const fact of facts) {
    const stamp = { l, c: 0 }
    state.merge({ ...fact, incarnation: '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6', seq: ++seq, stamp, rest: 0, person }, stamp)
  }
}

function told(): string[] {
  return historyLines(farm, happened(state.entity('visit', 'v')!)).map(({ text, who }) => `${who.split(' · ')[0]}: ${text}`)
}

const begin = (toOrder: boolean) => say('ana', 1000, ...visitFacts({ ...visit, toOrder }), countFact('field', visit.id, plantCell('', untoldLength), 4))

describe('how a visit was cut', () => {
  it.each([
    ['order', true, 'Said to be cut to order'],
    ['clean', false, 'Said to be cut clean'],
  ] as const)('is told with who put it right, to %s', (_, toOrder, line) => {
    begin(!toOrder)
    say('ben', 2000, toOrderFact(visit.id, toOrder))
    expect(told()).toEqual(['Ana: Recorded', 'Ana: not graded: 4 stems counted', `Ben: ${line}`])
  })

  it('is told of one that was begun to order, since what is put right before it is sent looks like that too', () => {
    begin(true)
    expect(told()).toContain('Ana: Said to be cut to order')
  })

  it('is no line of one that was cut clean from the start', () => {
    begin(false)
    expect(told()).toEqual(['Ana: Recorded', 'Ana: not graded: 4 stems counted'])
  })
})

it.each([
  ['a cut at a plant', {}, true],
  ['a cut of a whole bed', { plant: '' }, false],
  ['stems left standing', { purpose: 'standing' }, false],
  ['nothing here', { purpose: 'nothing' }, false],
] as const)('clean or to order is asked, or not, of %s', (_, other, asked) => {
  expect(saysHowCut({ ...visit, ...other })).toBe(asked)
})
