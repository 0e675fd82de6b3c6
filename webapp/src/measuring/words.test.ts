import { afterEach, describe, expect, it } from 'vitest'
import { problems } from '../colourcard/measurement'
import { labOfRGB, decoded, sRGB } from '../colour/rgb'
import { colourWith, farmWith, readingWith } from '../crop/testing/nouns'
import { languageChoice, loadWords } from '../messages/messages'
import { wordsOf } from './colour_words'
import { surenessOf, uncertaintyOf } from './uncertainty'
import { colourText, measuredSpreadText, nearestText, problemShort, problemText, readingSpreadText, surenessText } from './words'

afterEach(() => loadWords('en'))

describe('every problem', () => {
  it.each(['en', 'es'] as const)('is told by what to do about it, in %s, in few words and in one or two sentences', async (language) => {
    await loadWords(language)
    for (const problem of problems) {
      const [short, text] = [problemShort(problem), problemText(problem)]
      expect(short.split(' ').length, short).toBeLessThanOrEqual(7)
      expect(text, problem).toMatch(/^[\p{Lu}¿].*\.$/u)
      expect(text.length, text).toBeLessThanOrEqual(125)
    }
    expect(new Set(problems.map(problemText)).size).toBe(problems.length)
  })
})

describe('how sure a colour is', () => {
  const lab = { L: 52, a: 38, b: 4 }

  it('is what the eye sees of its uncertainty, and little of it in what is strong anyway', () => {
    const grey = uncertaintyOf({ L: 50, a: 0, b: 0 }, { L: 1, a: 0, b: 0 })
    expect(grey).toBeCloseTo(1, 1) // CIEDE2000: S_L is 1 at L 50
    expect(uncertaintyOf(lab, { L: 0, a: 2, b: 0 })).toBeLessThan(1.2)
    expect(uncertaintyOf(lab, { L: 0, a: 0, b: 0 })).toBe(0)
  })

  it.each([[0.4, 'good'], [1.5, 'good'], [1.51, 'fair'], [2.99, 'fair'], [3, 'poor'], [8, 'poor']] as const)('±%d is %s', (n, sure) => {
    expect(surenessOf(n)).toBe(sure)
  })

  it('is said in a sentence', () => {
    expect(surenessText(lab, { L: 0.8, a: 0.8, b: 0.8 })).toMatch(/^±[01]\.\d: good\.$/)
    expect(surenessText(lab, { L: 4, a: 4, b: 4 })).toMatch(/^±\d\.\d: only large changes will show\.$/)
  })
})

describe('a width', () => {
  it('is told in the farm’s unit with its error', () => {
    expect(measuredSpreadText({ spread: 8.4, spreadSE: 0.3 }, 'cm')).toBe('8.4 cm ± 0.3 wide')
    expect(measuredSpreadText({ spread: 8.4, spreadSE: 0.3 }, 'in')).toBe('3.3 in ± 0.1 wide')
    expect(readingSpreadText(readingWith({ spread: 84, spreadSE: 3 }), 'cm')).toBe('8.4 cm ± 0.3 wide')
  })

  it('is not told where it was not measured', () => {
    expect(measuredSpreadText({ spread: undefined, spreadSE: undefined }, 'cm')).toBeUndefined()
    expect(readingSpreadText(readingWith({ spread: 0 }), 'cm')).toBeUndefined()
  })
})

describe('a colour in words', () => {
  // Names and values of CSS Color Module Level 4 (W3C), 6.1 Named Colors.
  it.each([
    ['white', '#ffffff', 'white'], ['black', '#000000', 'black'], ['gray', '#808080', 'grey'], ['cornsilk', '#fff8dc', 'cream'],
    ['red', '#ff0000', 'red'], ['crimson', '#dc143c', 'red'], ['firebrick', '#b22222', 'red'], ['hotpink', '#ff69b4', 'pink'], ['pink', '#ffc0cb', 'pink'],
    ['palevioletred', '#db7093', 'pink'], ['salmon', '#fa8072', 'salmon'], ['orange', '#ffa500', 'orange'], ['saddlebrown', '#8b4513', 'brown'],
    ['gold', '#ffd700', 'yellow'], ['khaki', '#f0e68c', 'yellow'], ['greenyellow', '#adff2f', 'greenish_yellow'], ['forestgreen', '#228b22', 'green'],
    ['royalblue', '#4169e1', 'blue'], ['blueviolet', '#8a2be2', 'violet'], ['purple', '#800080', 'purple'],
  ])('%s is named as people name it', (_, swatch, hue) => {
    const [r, g, b] = [1, 3, 5].map((at) => decoded(Number.parseInt(swatch.slice(at, at + 2), 16) / 255)) as [number, number, number]
    expect(wordsOf(labOfRGB({ r, g, b }, sRGB)).hue).toBe(hue)
  })

  it('says how it differs from its kind', () => {
    expect(colourText({ L: 80, a: 20, b: 0 })).toBe('pale pink')
    expect(colourText({ L: 45, a: 60, b: 30 })).toBe('strong red')
    expect(colourText({ L: 95, a: 0, b: 0 })).toBe('white')
  })

  it('names the class that it is nearest to, of those that were measured', () => {
    const [rose, plum] = [colourWith({ id: 'a' as never, name: 'rose', lab: { L: 60, a: 30, b: 0 } }), colourWith({ id: 'b' as never, name: 'plum', lab: { L: 30, a: 30, b: -10 } })]
    const farm = farmWith({ colours: [rose, plum, colourWith({ name: 'unmeasured' })] })
    expect(nearestText(farm, { L: 33, a: 29, b: -9 })).toMatch(/^nearest class: plum, \d\.\d away$/)
    expect(nearestText(farmWith({ colours: [colourWith()] }), { L: 33, a: 29, b: -9 })).toBeUndefined()
  })
})
languageChoice.value = 'en'
