import { describe, expect, it } from 'vitest'
import type { Bed, BedID, Millimetres, PlantID } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { formOf, freeName, isNamed, readBedForm, readMeasure, writeMeasure } from './bed_form'

describe('a measure as it is typed', () => {
  it.each([
    ['', 'cm', 0], ['30', 'cm', 30_000], ['1.2', 'cm', 1_200], ['1,25', 'cm', 1_250], [' 0.5 ', 'cm', 500], ['.5', 'cm', 500], ['1000', 'cm', 1_000_000],
    ['100', 'in', 30_480], ['4', 'in', 1_219], // 4 feet are 1,219.2 mm
    ['0', 'cm', undefined], ['1001', 'cm', undefined], ['-3', 'cm', undefined], ['3 m', 'cm', undefined], ['1e3', 'cm', undefined], ['1.2.3', 'cm', undefined],
  ] as const)('%j in %s is %s mm', (text, unit, mm) => {
    expect(readMeasure(text, unit)).toBe(mm)
  })

  it.each([[0, 'cm', ''], [30_000, 'cm', '30'], [1_250, 'cm', '1.25'], [30_480, 'in', '100'], [1_219, 'in', '4']] as const)('%d mm in %s is written %j', (mm, unit, text) => {
    expect(writeMeasure(mm as Millimetres, unit)).toBe(text)
  })
})

const farm = farmWith({ beds: [bedWith()], plantings: [plantingWith()], plants: [plantWith({ id: 'a' as PlantID, line: 3, number: 1 })] }, { unit: 'in' })

describe('a bed’s form', () => {
  it('leaves a measure that was not touched as it was, to the millimetre', () => {
    const bed = bedWith({ length: 9_002 as Millimetres, width: 1_003 as Millimetres, lines: 4 })
    expect(readBedForm({ ...formOf(bed, 'in'), name: 'Gate' }, bed, farm)).toEqual({ bed: { ...bed, name: 'Gate' }, problems: [] })
  })

  it.each([
    ['a name', { name: '  ' }, ['name']],
    ['measures that are none', { length: 'long', width: '-1' }, ['length', 'width']],
    ['lines that are no number', { lines: 'four' }, ['lines']],
    ['more lines than a bed has', { lines: '51' }, ['lines']],
    ['lines where plants stand', { lines: '2' }, ['lines_used']],
    ['nothing where lines are left open', { lines: '' }, []],
    ['nothing with as many lines as are used', { lines: '3' }, []],
  ])('asks for %s', (_, typed, problems) => {
    const bed: Bed = bedWith({ lines: 4 })
    expect(readBedForm({ ...formOf(bed, 'in'), ...typed }, bed, farm).problems).toEqual(problems)
  })
})

it('a name is proposed that no bed has', () => {
  const named = (n: number) => `Bed ${n}`
  expect(freeName(farmWith({}), named)).toBe('Bed 1')
  expect(freeName(farmWith({ beds: [bedWith({ name: 'Bed 2' })] }), named)).toBe('Bed 3')
})

it.each([[' b ', true], ['B2', false]])('another bed is known to be called %j: %s', (name, named) => {
  expect(isNamed(farm, { id: 'other' as BedID, name })).toBe(named)
  expect(isNamed(farm, { id: 'b' as BedID, name })).toBe(false)
})
