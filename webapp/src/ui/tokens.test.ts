import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

const css = readFileSync(new URL('./tokens.css', import.meta.url), 'utf8')

function colours(selector: string): Map<string, string> {
  const block = css.slice(css.indexOf(`${selector} {`)).split('}')[0] ?? ''
  return new Map([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map((m) => [m[1]!, m[2]!]))
}

/** WCAG 2.2, relative luminance of an sRGB colour. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
}

/** WCAG 2.2, contrast ratio. */
function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x)
  return (light! + 0.05) / (dark! + 0.05)
}

const grounds = ['paper', 'card', 'leaf-soft']
const pairs: [string, string][] = [
  ...grounds.flatMap((ground) => [['ink', ground], ['ink-2', ground]] as [string, string][]),
  ['leaf', 'paper'], ['leaf', 'card'], ['leaf', 'leaf-soft'], ['leaf-ink', 'leaf'],
  ['warn', 'warn-soft'], ['warn', 'paper'], ['warn', 'card'], ['stop', 'stop-soft'],
  ['g-extra-ink', 'g-extra'], ['g-first-ink', 'g-first'], ['g-second-ink', 'g-second'], ['g-out-ink', 'g-out'],
]

describe.each([['light', ':root'], ['dark', ":root[data-theme='dark']"]])('%s theme', (_, selector) => {
  const theme = colours(selector)
  it.each(pairs)('text %s on %s has 7:1 or better', (text, ground) => {
    expect(contrast(theme.get(text)!, theme.get(ground)!)).toBeGreaterThanOrEqual(7)
  })

  it.each(grounds)('outlines on %s have 3:1 or better', (ground) => {
    expect(contrast(theme.get('line-2')!, theme.get(ground)!)).toBeGreaterThanOrEqual(3)
  })
})

it('computes contrast as WCAG does: black on white is 21:1', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10)
})
