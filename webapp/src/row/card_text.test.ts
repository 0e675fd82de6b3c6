import { beforeAll, expect, it } from 'vitest'
import type { CardHow, Day } from '../crop/nouns'
import { cardWith } from '../crop/testing/nouns'
import { offBy, shownUnits } from '../measuring/known_cards'
import { languageChoice, loadWords } from '../messages/messages'
import { knownCardText } from './card_text'

beforeAll(async () => {
  languageChoice.value = 'en'
  await loadWords('en')
})

const today = '2026-06-03' as Day

it.each<[CardHow, number, RegExp]>([
  ['typed', 0.7, /its colours were measured elsewhere \(today\), to about /],
  ['beside', 1.2, /photographed beside something known \(today\)/],
  ['as_printed', 4, /^Batch K7M2QX is taken as it was printed: nobody has measured it/],
])('a card whose colours are %s is said to be no more, with how far off it may be', (how, se, said) => {
  const patches = [{ L: 50, a: 0, b: 0 }, { L: 50, a: 60, b: 30 }]
  const text = knownCardText({ ...cardWith({ patches, se, measured: today }), how }, today)
  expect(text).toMatch(said)
  expect(text).toContain(`about ${shownUnits(offBy({ patches, se }))}.`)
})
