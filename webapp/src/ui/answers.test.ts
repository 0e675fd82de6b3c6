import { expect, it } from 'vitest'
import { answersTo, type Given, withAnswer, withoutAnswer } from './answers'

const [first, second, other] = ['first', 'second', 'other']

it('each answer to a question stays until it is undone, the newest first, and others’ are none of it', () => {
  let given: readonly Given<string>[] = []
  for (const [key, answer] of [['plant', first], ['elsewhere', other], ['plant', second]] as const) given = withAnswer(given, key, answer ?? '')
  expect(answersTo(given, 'plant')).toEqual([second, first])
  given = withoutAnswer(given, second)
  expect([answersTo(given, 'plant'), answersTo(given, 'elsewhere')]).toEqual([[first], [other]])
})
