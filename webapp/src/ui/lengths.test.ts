import { afterEach, describe, expect, it } from 'vitest'
import { type Day, type Farm, type LengthClass, openEnd, untoldLength, type Visit, type VisitID } from '../crop/nouns'
import { languageChoice, loadWords } from '../messages/messages'
import { inUnit, keyOf, lengthMeasured, lengthName, lengthSpoken, lengthsInUse, withLengths } from './lengths'

const length = (lo: number, hi: number) => ({ lo, hi }) as LengthClass

afterEach(() => { languageChoice.value = 'auto' })

describe('a length class', () => {
  const cases: [string, LengthClass, 'cm' | 'in', string, string][] = [
    ['in centimetres', length(500, 600), 'cm', '50 cm', '50 to 60 centimetres'],
    ['in inches, rounded: 500 mm is 19.7', length(500, 600), 'in', '20 in', '20 to 24 inches'],
    ['without an upper bound', length(1200, openEnd), 'cm', '120+ cm', '120 centimetres and longer'],
    ['without an upper bound, in inches', length(600, openEnd), 'in', '24+ in', '24 inches and longer'],
    ['untold', untoldLength, 'cm', 'any', 'length not told'],
  ]
  it.each(cases)('%s', async (_, one, unit, name, spoken) => {
    languageChoice.value = 'en'
    await loadWords('en')
    expect(lengthName(one, unit)).toBe(name)
    expect(lengthSpoken(one, unit)).toBe(spoken)
  })

  it('is read in Spanish', async () => {
    languageChoice.value = 'es'
    await loadWords('es')
    expect(lengthSpoken(length(500, 600), 'cm')).toBe('de 50 a 60 centímetros')
  })
})

// testdata/reference: 21 in = 53.34 cm, 14 in = 35.56 cm, 39 in = 99.06 cm (trade conversions).
it.each([[533.4, 21], [355.6, 14], [990.6, 39]])('%d mm are %d inches', (mm, inches) => {
  expect(inUnit(mm as never, 'in')).toBe(inches)
})

it('measures a bed in metres, or in feet', async () => {
  languageChoice.value = 'en'
  await loadWords('en')
  expect(lengthMeasured(9150 as never, 'cm')).toBe('9.2 m')
  expect(lengthMeasured(9144 as never, 'in')).toBe('30 ft')
})

describe('the lengths in use', () => {
  const day = '2026-06-03' as Day
  const visit = (lo: number, hi: number, stems: number, date = '2026-05-30', grade = 'first') =>
    ({ date, counts: [{ colour: '', grade, length: length(lo, hi), stems }] }) as unknown as Visit
  const farmOf = (...visits: Visit[]) => ({ visits: new Map(visits.map((v, i) => [String(i) as VisitID, v])) }) as unknown as Farm
  const bounds = (lengths: readonly LengthClass[]) => lengths.map((l) => l.lo)

  const cases: [string, Visit[], number[], number][] = [
    ['begin as 40, 50 and 60 cm', [], [400, 500, 600], 0],
    ['add what was counted, shortest first, and tell the most used', [visit(300, 400, 2), visit(600, 700, 9)], [300, 400, 500, 600], 3],
    ['are those alone once there are three', [visit(300, 400, 2), visit(700, 800, 9), visit(800, 900, 1)], [300, 700, 800], 1],
    ['leave out what nobody counted in for a year', [visit(300, 400, 2, '2025-05-01')], [400, 500, 600], 0],
    ['do not change with what is counted today', [visit(300, 400, 2, '2026-06-03')], [400, 500, 600], 0],
    ['tell where most were graded and not measured', [visit(500, 600, 9), visit(0, 0, 50)], [400, 500, 600], 3],
    ['leave out what hardly a stem falls in', [visit(300, 400, 1), visit(700, 800, 200)], [400, 500, 600, 700], 3],
    ['do not ask numbers without a grade', [visit(500, 600, 9), visit(0, 0, 50, '2026-05-30', '')], [400, 500, 600], 1],
  ]
  it.each(cases)('%s', (_, visits, lengths, most) => {
    const inUse = lengthsInUse(farmOf(...visits), day)
    expect([bounds(inUse.lengths), inUse.most]).toEqual([lengths, most])
  })

  it('tell two classes apart that begin alike', () => {
    const { lengths } = lengthsInUse(farmOf(visit(600, openEnd, 1)), day)
    expect(lengths.map(keyOf)).toEqual(['400|500', '500|600', '600|700', '600|1000000'])
  })

  it('take in what is asked for, and keep the most used', () => {
    const inUse = lengthsInUse(farmOf(visit(600, 700, 9)), day)
    const more = withLengths(inUse, [length(300, 400), untoldLength, length(600, 700), length(300, 400)])
    expect([bounds(more.lengths), more.most]).toEqual([[300, 400, 500, 600], 3])
    expect(withLengths(inUse, [length(500, 600)])).toBe(inUse)
    const unmeasured = lengthsInUse(farmOf(visit(0, 0, 9)), day)
    expect(withLengths(unmeasured, [length(300, 400)]).most).toBe(4)
  })
})
