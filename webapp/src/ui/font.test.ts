import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { expect, it } from 'vitest'
import { es } from '../messages/es'
import { en } from '../messages/en'

const wght = readFileSync(createRequire(import.meta.url).resolve('@fontsource-variable/atkinson-hyperlegible-next/wght.css'), 'utf8')

/** The characters that the Latin file declares to hold. */
function latinRanges(): [number, number][] {
  const face = wght.split('latin-wght-normal.woff2')[1] ?? ''
  const ranges = /unicode-range: ([^;]+);/.exec(face)?.[1] ?? ''
  return ranges.split(',').map((range) => {
    const [from, to] = range.replace('U+', '').split('-').map((hex) => parseInt(hex, 16))
    return [from!, to ?? from!]
  })
}

it('the one font file that is shipped holds every character of both catalogues', () => {
  const ranges = latinRanges()
  const text = JSON.stringify([es, en]).replace(/\\n/g, '')
  const missing = [...new Set(text)].filter((c) => !ranges.some(([from, to]) => c.codePointAt(0)! >= from && c.codePointAt(0)! <= to))
  expect(missing).toEqual([])
})
