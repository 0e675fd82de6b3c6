// The codes on plants' tags and of batches of colour cards. Mirrors internal/tags/code.go and batch.go, where the
// rules are told.

import type { CardID } from './nouns'

const letters = '34679ACDEFGHJKMNPQRTWXY'
const signs = 4
const batchSigns = 5
export const blockSize = 256
const blocksPerFirst = 1093

/** The code at a place of a block, both from 0: "R4K 7MC". */
export function tagCode(block: number, at: number): string {
  const radix = letters.length
  const values: number[] = []
  let k = ((block % blocksPerFirst) * blockSize + at) * 7919 + 104_729
  for (let i = 0; i < signs; i++) {
    values.unshift(k % radix)
    k = Math.floor(k / radix)
  }
  values.unshift(Math.floor(block / blocksPerFirst))
  values.push(check(values))
  const text = values.map((v) => letters[v]).join('')
  return `${text.slice(0, 3)} ${text.slice(3)}`
}

/** The code of a new batch of colour cards, of random bytes: "K7M4QE". Throws where they end too early. */
export function batchCode(random: Iterable<number>): CardID {
  const radix = letters.length
  const values: number[] = []
  for (const byte of random) {
    if (byte < 256 - (256 % radix)) values.push(byte % radix)
    if (values.length === batchSigns) return [...values, check(values)].map((v) => letters[v]).join('') as CardID
  }
  throw new RangeError('making the code of a batch of cards: too few random bytes were given')
}

/** A code as people read it, in two groups. */
export function shownBatch(batch: string): string {
  return batch.length === batchSigns + 1 ? `${batch.slice(0, 3)} ${batch.slice(3)}` : batch
}

/** Of a pure system of ISO/IEC 7064, with our letters' number as modulus and radix 2. */
function check(values: readonly number[]): number {
  const sum = values.reduce((before, v) => ((before + v) * 2) % letters.length, 0)
  return (letters.length + 1 - sum) % letters.length
}

/** A code as it is compared: however it was typed or read, and whoever made it. */
export function normalCode(typed: string): string {
  return typed.normalize('NFC').toUpperCase().replace(/[\s\-‐–—.]/gu, '')
}

/** Whether a text is a code that Corymb made. Other texts may be on tags too, as a spreadsheet brings them. */
export function isTagCode(typed: string): boolean {
  const values = [...normalCode(typed)].map((sign) => letters.indexOf(sign))
  return values.length === signs + 2 && !values.includes(-1) && check(values.slice(0, -1)) === values.at(-1)
}

/** Whether a text looks like a code that Corymb made and is none: a sign of it is wrong. */
export function isMisread(typed: string): boolean {
  const code = normalCode(typed)
  return /^[A-Z\d]+$/.test(code) && /[A-Z]/.test(code) && code.length === signs + 2 && !isTagCode(code)
}
