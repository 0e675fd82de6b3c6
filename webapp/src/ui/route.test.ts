import { describe, expect, it } from 'vitest'
import { href, partsOf } from './route'

describe('the parts of an address', () => {
  it.each([
    ['', []],
    ['#/beds', ['beds']],
    ['#/beds/bed/a%2Fb', ['beds', 'bed', 'a/b']],
    ['#/beds/bed/100%', ['beds', 'bed', '100%']],
    ['#/%E0%A4%A/x', ['%E0%A4%A', 'x']],
  ] as const)('of "%s" are %j', (hash, parts) => {
    expect(partsOf(hash)).toEqual(parts)
  })

  it('are those that it was made from', () => {
    expect(partsOf(href('beds', 'plant', 'a/b %c'))).toEqual(['beds', 'plant', 'a/b %c'])
  })
})
