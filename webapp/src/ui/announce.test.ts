import { expect, it } from 'vitest'
import { announce, announcement } from './announce'

it('changes what the live region holds each time, so that the same words are spoken again', () => {
  const held = ['4 stems', '4 stems', '4 stems', '2 stems'].map((text) => {
    announce(text)
    return announcement.value
  })
  expect(held.every((text, i) => text !== held[i - 1])).toBe(true)
  expect(held.map((text) => text.trim())).toEqual(['4 stems', '4 stems', '4 stems', '2 stems'])
})
