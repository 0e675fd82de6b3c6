import { describe, expect, it } from 'vitest'
import { asPrinted as card } from '../colourcard/as_printed'
import { type ColourProblem, emptyTyped, readTyped, type TypedColour, typedOf } from './card_typed'

const asPrinted = card.patches
const whole = typedOf(asPrinted, 'de')

/** The colours as they are typed in Germany, one of them otherwise. */
function withOne(colour: number, told: Partial<TypedColour>): readonly TypedColour[] {
  return whole.map((one, i) => (i === colour ? { ...one, ...told } : one))
}

describe('typed colours', () => {
  it('are read in the digits that are kept', () => {
    const { labs, problems } = readTyped(whole)
    expect(problems.every((one) => one === undefined)).toBe(true)
    for (const [i, lab] of labs!.entries()) {
      for (const part of ['L', 'a', 'b'] as const) expect(Math.abs(lab[part] - asPrinted[i]![part])).toBeLessThanOrEqual(0.005 + 1e-9)
    }
    expect(whole[5]!.L).toContain(',')
  })

  it('are none before anything is typed', () => {
    const { labs, problems } = readTyped(emptyTyped())
    expect(labs).toBeUndefined()
    expect(problems).toEqual(asPrinted.map(() => 'missing'))
  })

  it.each<[string, number, Partial<TypedColour>, ColourProblem]>([
    ['a missing number', 3, { b: ' ' }, 'missing'],
    ['no number', 3, { a: 'x' }, 'no_number'],
    ['a lightness above 100', 4, { L: '100,5' }, 'lightness'],
    ['a lightness below 0', 0, { L: '-2' }, 'lightness'],
    ['more than can be printed', 5, { a: '120' }, 'beyond'],
    ['a minus that is missing', 8, { a: '33', b: '30' }, 'far'],
    ['another patch’s', 7, { L: '38', a: '30', b: '-45' }, 'far'],
    ['a print without colours', 5, { a: '0', b: '0' }, 'far'],
  ])('are refused with %s, of that colour alone', (_, colour, told, problem) => {
    const { labs, problems } = readTyped(withOne(colour, told))
    expect(labs).toBeUndefined()
    expect(problems.map((one, i) => (one === undefined ? undefined : [i, one])).filter((one) => one !== undefined)).toEqual([[colour, problem]])
  })

  it('are taken of a print on matte paper, which is lighter in the darks and duller', () => {
    const dull = asPrinted.map(({ L, a, b }) => ({ L: 30 + 0.65 * L, a: 0.75 * a, b: 0.75 * b - 2 }))
    expect(readTyped(typedOf(dull, 'en')).labs).toHaveLength(12)
  })

  it('are refused where two greys changed places', () => {
    const [first, second] = [whole[1]!, whole[2]!]
    const changed = whole.map((one, i) => (i === 1 ? second : i === 2 ? first : one))
    expect(readTyped(changed)).toMatchObject({ labs: undefined, greysOutOfOrder: true })
  })
})
