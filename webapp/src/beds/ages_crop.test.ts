import { expect, it } from 'vitest'
import { cropShown } from './ages'

const crops = [{ species: '' }, { species: 'Achillea millefolium' }, { species: 'Phlox paniculata' }]

it.each([
  ['the first with a name where none is chosen', crops, undefined, 'Achillea millefolium'],
  ['the one chosen', crops, 'Phlox paniculata', 'Phlox paniculata'],
  ['the nameless one where it is chosen', crops, '', ''],
  ['the first with a name where the one chosen is gone', crops, 'Delphinium', 'Achillea millefolium'],
  ['the nameless one where there is no other', [{ species: '' }], undefined, ''],
  ['none where there is none', [], undefined, undefined],
])('of crops is shown %s', (_, all, chosen, shown) => {
  expect(cropShown(all, chosen)?.species).toBe(shown)
})
