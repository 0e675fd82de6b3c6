import { expect, it } from 'vitest'
import type { ColourID, Day, Millimetres } from '../crop/nouns'
import { colourWith, farmWith } from '../crop/testing/nouns'
import type { Asked } from '../forecast/asking'
import { today } from '../ui/today'
import { type Replying, replyText } from './reply'

const [ember, coral] = ['ember', 'coral'] as [ColourID, ColourID]
const farm = farmWith({ colours: [ember, coral].map((id) => colourWith({ id, name: id })) }, { name: 'Weir farm' })
const day = '2026-06-10' as Day
const asked: Asked = { stems: 220, colours: [ember], grade: 'first', length: 500 as Millimetres, from: day, due: day }
const reply = (told: Partial<Replying>) => {
  today.value = '2026-06-01' as Day
  return replyText(farm, { asked, day, stems: 180, promised: false, helps: [], ...told }).split('\n')
}

it.each<[string, Partial<Replying>, readonly string[]]>([
  ['all that was asked', { stems: 220 }, ['We can promise 220 stems for Wed, June 10: ember, first, 50 cm.', 'Weir farm']],
  ['part of it, with what would help most', { helps: [{ kind: 'colour', colour: coral, safe: 265 }, { kind: 'day', day, safe: 200 }] }, [
    'We can promise 180 stems for Wed, June 10: ember, first, 50 cm.', 'You asked for 220; more than this we cannot be sure of.', 'With coral too it would be 265.', 'Weir farm',
  ]],
  ['none of it', { stems: 0 }, ['Sorry, we cannot promise any for Wed, June 10: ember, first, 50 cm.', 'Weir farm']],
  ['a promise', { stems: 220, promised: true, helps: [{ kind: 'grade', grade: 'second', safe: 300 }] }, ['Yes: 220 stems for Wed, June 10, ember, first, 50 cm. You have our word.', 'Weir farm']],
])('the reply says %s', (_, told, lines) => {
  expect(reply(told)).toEqual(lines)
})

it('the reply bears the name that stands on the farm’s papers', () => {
  const sold = { ...farm, sales: { ...farm.sales, terms: { ...farm.sales.terms, seller: 'Weir Flowers\nMill Lane 2' } } }
  expect(replyText(sold, { asked, day, stems: 180, promised: true, helps: [] })).toMatch(/\nWeir Flowers$/)
})
