import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { hasMessage } from '../messages/messages'
import { refusedText } from './invoice_ask'

describe('why nothing was billed', () => {
  it.each([
    [{ error: { code: 'billed', text: 'x' }, number: '2026-BCD-0003' }, 'Invoice 2026-BCD-0003 has this delivery already. Nothing was billed twice.'],
    [{ error: { code: 'a_later_one', text: 'As the shed says it.' } }, 'As the shed says it.'],
    [{}, 'The shed could not make it. Nothing was billed. Try again.'],
  ])('%j is told as %s', (told, want) => {
    expect(refusedText(told)).toBe(want)
  })

  // What an app of this version never asks for needs no words of its own: the shed's stand in.
  const theShedsOwn = ['other_buyer', 'no_claim', 'no_credit', 'no_invoice', 'is_credit']

  it.each(['bill.go', 'credit.go'])('has words in both languages for what %s refuses', (file) => {
    const text = readFileSync(join(import.meta.dirname, '../../../internal/selling', file), 'utf8')
    const codes = [...text.matchAll(/refused\("(\w+)"/g)].map((match) => match[1]!)
    expect(codes.length).toBeGreaterThan(5)
    expect(codes.filter((code) => !hasMessage(`papers.refused.${code}`) && !theShedsOwn.includes(code))).toEqual([])
  })
})
