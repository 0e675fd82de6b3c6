import { describe, expect, it } from 'vitest'
import type { ColourID, Day, Millimetres } from '../crop/nouns'
import type { Bunch } from '../crop/sale_nouns'
import { emptyDraft, readDraft, stemsTyped, withBunch, withColour } from './ask_draft'

it.each([['', 0], [' 180 ', 180], ['1', 1], ['99999', 99_999], ['100000', undefined], ['0', undefined], ['12.5', undefined], ['-3', undefined], ['many', undefined]])('"%s" stems are %s', (text, stems) => {
  expect(stemsTyped(text)).toBe(stems)
})

describe('a draft', () => {
  const day = '2026-06-04' as Day

  it('is an ask once it says for when, also before a number is typed', () => {
    expect(readDraft(emptyDraft())).toBeUndefined()
    expect(readDraft({ ...emptyDraft(), from: day, due: day })).toMatchObject({ stems: 0, from: day, due: day })
    expect(readDraft({ ...emptyDraft(), stems: 'x', from: day, due: day })).toBeUndefined()
  })

  it('takes on what a rule for bunches asks of its stems, and keeps it without one', () => {
    const rule = { id: 'ten', name: 'Ten', stems: 10, grade: 'first', length: 400 as Millimetres } as Bunch
    expect([withBunch(rule), withBunch(undefined)]).toEqual([{ bunch: 'ten', grade: 'first', length: 400 }, { bunch: '' }])
  })

  it('takes a colour in and out', () => {
    const [ember, coral] = ['ember', 'coral'] as [ColourID, ColourID]
    expect([withColour([ember], coral), withColour([ember, coral], ember)]).toEqual([[ember, coral], [coral]])
  })
})
