// What the shed may say of a plan has words here: read from its source.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { farmWith } from '../crop/testing/nouns'
import { whyText } from '../ui/division_words'
import { noteText } from './Notes'

const source = (file: string) => readFileSync(join(import.meta.dirname, '../../../internal/division', file), 'utf8')
const codes = (file: string, type: string) => [...source(file).matchAll(new RegExp(` ${type} += "(\\w+)"`, 'g'))].map((found) => found[1]!)

it.each(codes('why.go', 'WhyCode'))('the reason %s has a sentence, with money and without', (code) => {
  for (const cents of [{}, { cents: 900 as never }]) expect(whyText(farmWith({}), { code, ...cents })).not.toMatch(/Reason:|\{/)
})

it.each(codes('note.go', 'NoteCode').filter((code) => code !== 'protected'))('the note %s has a sentence', (code) => {
  expect(noteText(farmWith({}), { code })).not.toMatch(/The shed notes|\{/)
})

it('there are reasons and notes to be found', () => {
  expect([codes('why.go', 'WhyCode').length > 9, codes('note.go', 'NoteCode').length > 4]).toEqual([true, true])
})

it('a reason of stems of no colour class names none that waits to be seen', () => {
  expect(whyText(farmWith({}), { code: 'market_full', cents: 0 as never })).toBe('More stems of no colour class would bring next to nothing.')
})
