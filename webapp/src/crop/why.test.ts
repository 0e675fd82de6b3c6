import { expect, it } from 'vitest'
import type { ColourID } from './nouns'
import type { Cents } from './sale_nouns'
import { byHand, parseWhy, type Why, wordOfWhy } from './why'

it.each<[Why, string, Why?]>([
  [{ code: 'open_centre' }, 'open_centre'],
  [byHand, 'by_hand'],
  [{ code: 'gives_most', times: 1.8 }, 'gives_most:180'],
  [{ code: 'gives_little', times: 0.25 }, 'gives_little:25'],
  [{ code: 'too_young', age: 1 }, 'too_young:1'],
  [{ code: 'colour_asked', colour: 'a:b' as ColourID }, 'colour_asked:a:b'],
  // Crew read decisions, and no money.
  [{ code: 'pays', cents: 900 as Cents }, 'pays', { code: 'pays' }],
  [{ code: 'colour_pays', colour: 'c1' as ColourID, cents: 40 as Cents }, 'colour_pays:c1', { code: 'colour_pays', colour: 'c1' as ColourID }],
])('a reason is kept as a word: %j', (why, word, read = why) => {
  expect(wordOfWhy(why)).toBe(word)
  expect(parseWhy(word)).toEqual(read)
})
