import { describe, expect, it } from 'vitest'
import { hexOf } from '../colour/shown'
import { plantWith } from '../crop/testing/nouns'
import { labOfHex, labTyped, nearestPlants, numberTyped } from './colour_nearest'
import { colourOf } from './colour_report'
import type { StandPlant } from './colour_stand'
import { plantColourWith } from './testing/colours'

const one = (code: string, L: number, se: number): StandPlant => ({ plant: plantWith({ code }), colour: colourOf(plantColourWith('p', 2026, { L, a: 0, b: 0 }, { se })), state: 'none', judged: undefined, class: undefined })

it('orders plants by their distance from what is wanted, with its uncertainty', () => {
  const near = nearestPlants([one('far', 60, 1), one('near', 51, 0.2), one('middle', 46, 1)], { L: 50, a: 0, b: 0 })
  expect(near.map(({ one: { plant } }) => plant.code)).toEqual(['near', 'middle', 'far'])
  expect(near.map(({ away }) => Math.round(away))).toEqual([1, 4, 9])
  expect(near[0]!.se).toBeCloseTo(0.2, 1)
})

it.each<[string, boolean]>([['#b23a52', true], ['B23A52', true], [' #b23a52 ', true], ['#b23a5', false], ['red', false], ['', false]])('reads %j as a colour: %s', (written, is) => {
  const lab = labOfHex(written)
  expect(lab !== undefined).toBe(is)
  if (lab) expect(hexOf(lab)).toBe('#b23a52')
})

describe('what is typed', () => {
  it.each<[string, number | undefined]>([['12', 12], ['12.5', 12.5], ['12,5', 12.5], ['-3', -3], ['\u22123', -3], [' 4 ', 4], ['4.', 4], ['', undefined], ['-', undefined], ['1e3', undefined], ['4 5', undefined]])('%j is %s', (written, number) => {
    expect(numberTyped(written)).toBe(number)
  })

  it.each<[string, [string, string, string], boolean]>([
    ['whole', ['50', '-10', '20,5'], true], ['darker than black', ['-1', '0', '0'], false], ['lighter than white', ['101', '0', '0'], false],
    ['farther than any colour', ['50', '0', '201'], false], ['not finished', ['50', '', '0'], false],
  ])('of a colour is %s', (_, [L, a, b], is) => {
    expect(labTyped(L, a, b) !== undefined).toBe(is)
  })
})
