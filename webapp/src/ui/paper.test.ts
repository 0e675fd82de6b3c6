import { expect, it } from 'vitest'
import { usualPaper } from './paper'

it.each([
  [['en-US', 'es'], 'letter'], [['es-MX'], 'letter'], [['fr-CA'], 'letter'], [['en'], 'letter'],
  [['en-GB'], 'a4'], [['es'], 'a4'], [['es-GT'], 'a4'], [['es-419'], 'a4'], [['de', 'en-US'], 'a4'], [[], 'a4'], [['no language'], 'a4'],
] as const)('a device that speaks %j prints on %s', (languages, paper) => {
  expect(usualPaper(languages)).toBe(paper)
})
