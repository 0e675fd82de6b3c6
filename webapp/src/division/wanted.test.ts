import { expect, it } from 'vitest'
import type { AskID } from '../crop/ahead_nouns'
import type { ColourID, Day } from '../crop/nouns'
import type { Wanted } from './division_answer'
import { sameQuestion } from './division_plan'
import { isLeftOut, leaving, withWanted } from './wanted'

const ids = (...list: string[]) => list as AskID[]
const wanted = (colour: string, due: string, stems: number): Wanted => ({ colour: colour as ColourID, due: due as Day, stems })

it('asks of a week are left out together, and one that came since is not', () => {
  const out = leaving(ids('a'), ids('b', 'c'), true)
  expect(out).toEqual(['a', 'b', 'c'])
  expect([isLeftOut(ids('b', 'c'), out), isLeftOut(ids('b', 'c', 'new'), out)]).toEqual([true, false])
  expect(leaving(out, ids('b', 'c', 'new'), false)).toEqual(['a'])
})

it('stems of the same week and colour are told anew, in the order of weeks', () => {
  const before = [wanted('coral', '2027-05-31', 80), wanted('ember', '2027-06-07', 20)]
  expect(withWanted(before, wanted('coral', '2027-05-31', 120))).toEqual([wanted('coral', '2027-05-31', 120), before[1]])
  expect(withWanted(before, wanted('ember', '2027-05-24', 5))).toEqual([wanted('ember', '2027-05-24', 5), ...before])
})

it('what is wanted or left out makes another question, in whatever order', () => {
  const question = { places: 12, hours: 16, goal: 1.5, seasons: 2, chance: 0.8, most: 4, wanted: [wanted('coral', '2027-05-31', 80), wanted('ember', '2027-06-07', 20)], leftOut: ids('a', 'b') }
  expect(sameQuestion(question, { ...question, wanted: [...question.wanted].reverse(), leftOut: ids('b', 'a') })).toBe(true)
  expect(sameQuestion(question, { ...question, wanted: question.wanted.slice(1) })).toBe(false)
  expect(sameQuestion(question, { ...question, leftOut: ids('a') })).toBe(false)
})
