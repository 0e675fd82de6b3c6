// A bunch, and a line that is not filled, in words.

import { afterEach, expect, test } from 'vitest'
import { colourFacts } from '../crop/facts'
import { lotCell } from '../crop/lots'
import type { ColourID } from '../crop/nouns'
import { farmSaid } from '../crop/testing/said'
import { languageChoice, loadWords } from '../messages/messages'
import { drawnBriefly } from './packing_words'
import { dueLines } from './due_lines'
import { shortText } from './PlanShorts'
import { lineWith, lotOf, orderedFacts, packDay, plannedWith } from './testing/shop'

const lots = ['2026-06-01', '2026-06-02', '2026-06-03', '2026-06-04', '2026-06-05'].map((day) => lotCell(lotOf(day)))

test.each([
  ['all are named where they are few', [3, 1, 4, 2], 4, ''],
  ['of many those with most, and the rest counted', [1, 5, 2, 1, 3], 3, ', and 2 stems of 2 other lots'],
])('%s', (_, stems, named, rest) => {
  const text = drawnBriefly(farmSaid([]), stems.map((n, i) => [lots[i]!, n] as const))
  expect(text.split(/\d of /).length - 1).toBe(named)
  expect(text.endsWith(rest)).toBe(true)
  expect(text.startsWith(`${Math.max(...stems)} of`)).toBe(true)
})

afterEach(() => { languageChoice.value = 'auto' })

test.each([
  ['en', 1, '**Studio** is one bunch short for want of 1 stem (ember).'],
  ['en', 2, '**Studio** is 2 bunches short for want of 2 stems (ember).'],
  ['es', 1, 'A **Studio** le falta un manojo por 1 tallo (ember).'],
  ['es', 2, 'A **Studio** le faltan 2 manojos por 2 tallos (ember).'],
] as const)('a line that is not filled says how many bunches it lacks: %s, %i', async (language, n, want) => {
  languageChoice.value = language
  await loadWords(language)
  const farm = farmSaid([...orderedFacts(lineWith()), ...colourFacts({ id: 'ember' as ColourID, name: 'ember', swatch: '' })])
  const due = dueLines(farm.sales, packDay)
  expect(shortText(farm, due, due[0]!, plannedWith({ more: 4 - n }), { why: 'want', missing: n, ask: [], there: 1, to: [] })).toBe(want)
})
