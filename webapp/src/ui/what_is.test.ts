import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { en } from '../messages/en'
import { es } from '../messages/es'
import { terms } from './WhatIs'

const src = join(import.meta.dirname, '..')
const pages = readdirSync(src, { recursive: true }).map(String).filter((path) => path.endsWith('.tsx')).map((path) => [path, readFileSync(join(src, path), 'utf8')] as const)

describe('every term', () => {
  it('is explained where it stands, on some page beside the list of all', () => {
    const asked = pages.flatMap(([, text]) => [...text.matchAll(/<WhatIs of="(\w+)"/g)].map((m) => m[1]))
    expect(terms.filter((term) => !asked.includes(term))).toEqual([])
  })

  it.each([['English', en], ['Spanish', es]] as const)('is explained in a few short sentences of %s', (_, words) => {
    const long = terms.filter((term) => words[`help.what.${term}`].length > 240)
    expect(long).toEqual([])
  })
})

it('nothing is explained among the keys that count: a thumb there would open it by mistake', () => {
  const counting = ['Walk.tsx', 'Handful.tsx', 'StemGrid.tsx', 'PlantCard.tsx', 'PlantTools.tsx'].map((name) => join('row', name))
  const found = pages.filter(([path, text]) => counting.includes(path) && text.includes('WhatIs')).map(([path]) => path)
  expect(found).toEqual([])
})
