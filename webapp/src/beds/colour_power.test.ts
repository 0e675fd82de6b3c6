import { beforeAll, describe, expect, it } from 'vitest'
import { languageChoice, loadWords } from '../messages/messages'
import { chanceOf, photoPlans, worthTaking } from './colour_power'
import type { Power } from './colour_report'
import { leadSize, powerSentence } from './ColourPower'

beforeAll(async () => {
  languageChoice.value = 'en'
  await loadWords('en')
})

const of = (photos: number, days: number, ...confirmed: number[]): Power[] => confirmed.map((one, i) => ({ photos, days, size: 2 + 2 * i, noticed: one, confirmed: one }))
const power = [...of(4, 2, 0.2, 0.85), ...of(2, 1, 0, 0), ...of(2, 2, 0.1, 0.7), ...of(6, 3, 0.25, 0.86)]

describe('plans of photos', () => {
  it('are those of more than one day, the fewest photos first', () => {
    expect(photoPlans({ power }).map(({ photos, days }) => [photos, days])).toEqual([[2, 2], [4, 2], [6, 3]])
    expect(chanceOf(photoPlans({ power })[0]!, 4)).toBe(0.7)
  })

  it.each<[string, Power[], [number, boolean, number | undefined]]>([
    ['the fewest that see it in four of five cases, and no more where more bring hardly more', power, [4, true, undefined]],
    ['what more would bring', [...of(2, 2, 0.1, 0.82), ...of(4, 2, 0.2, 0.9)], [2, true, 4]],
    ['the most where none sees it often enough', [...of(2, 2, 0.1, 0.3), ...of(6, 3, 0.2, 0.5)], [6, false, undefined]],
  ])('are worth: %s', (_, all, [photos, enough, more]) => {
    const worth = worthTaking(photoPlans({ power: all }), 4)
    expect([worth?.plan.photos, worth?.enough, worth?.more?.photos]).toEqual([photos, enough, more])
  })

  it('are said in a sentence', () => {
    expect(powerSentence(photoPlans({ power }), 4)).toBe('**4 photos** of a plant each season, spread over **2 days**, confirm a drift of 4 in **85 of 100** cases. More photos bring hardly more.')
    expect(powerSentence([], 4)).toBe('')
  })

  it('lead with a drift beyond what can just be seen', () => {
    expect(leadSize([2, 3, 4, 6], 3)).toBe(4)
    expect(leadSize([2, 3], 3)).toBe(3)
  })
})
