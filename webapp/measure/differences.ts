// Differences of pairs of colours, a line each.

import { once } from 'node:events'
import { createInterface } from 'node:readline'
import type { Readable, Writable } from 'node:stream'
import { difference } from '../src/colour/difference'
import type { Lab } from '../src/colour/lab'

/** A line that is no pair of colours. Its message names the line and says what to give. */
export class BadLine extends Error {}

/** Answers each line `L,a,b L,a,b` with CIEDE2000 of the two and twelve decimals, and empty lines not at
 * all. Stops with a BadLine at the first line that is neither, when those before it are written. */
export async function writeDifferences(from: Readable, to: Writable): Promise<void> {
  let number = 0
  for await (const line of createInterface({ input: from, crlfDelay: Infinity })) {
    number++
    if (line.trim() === '') continue
    const pair = pairOf(line)
    if (pair === undefined) throw new BadLine(`line ${number} is no pair of colours: ${JSON.stringify(line)}. Give L,a,b L,a,b, such as 50,2.5,0 61,-5,29`)
    const written = to.write(`${difference(...pair).total.toFixed(12)}\n`)
    if (!written) await once(to, 'drain')
  }
}

function pairOf(line: string): readonly [Lab, Lab] | undefined {
  const [one, two, ...more] = line.trim().split(/\s+/).map(colourOf)
  return one !== undefined && two !== undefined && more.length === 0 ? [one, two] : undefined
}

function colourOf(text: string): Lab | undefined {
  const [L, a, b, ...more] = text.split(',').map(numberOf)
  return L !== undefined && a !== undefined && b !== undefined && more.length === 0 ? { L, a, b } : undefined
}

/** The largest number that is taken for one of CIELAB, whose own are within some 200. */
const largest = 1000

/** A decimal number; what else JavaScript reads as one (nothing, 0x10) is none. */
function numberOf(text: string): number | undefined {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text)) return undefined
  const value = Number(text)
  return Math.abs(value) <= largest ? value : undefined
}
