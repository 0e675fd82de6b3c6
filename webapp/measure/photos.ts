// Photos measured by the app's own code, a line of JSON each.

import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { measure } from '../src/colourcard/measure'
import type { KnownCard, Measurement } from '../src/colourcard/measurement'
import { readCodes } from '../src/measuring/codes'
import { loadWasm } from '../src/scan/wasm_codes'
import { openPhoto, Unreadable } from './open'

export interface Line {
  readonly file: string
  /** The batch of the card that was found. */
  readonly card: string | null
  readonly lab: readonly [number, number, number] | null
  readonly se: readonly [number, number, number] | null
  readonly spread_cm: number | null
  readonly spread_se_cm: number | null
  /** 0 to 100. */
  readonly quality: number
  /** The words of src/colourcard/measurement.ts; of a file that cannot be read, a sentence. */
  readonly problems: readonly string[]
}

/** Where lines and complaints go. */
export interface Said {
  readonly line: (line: Line) => void
  readonly complaint: (sentence: string) => void
}

/** Measures each file and goes on after those that cannot be read; says whether all could. */
export async function measureFiles(files: readonly string[], cards: ReadonlyMap<string, KnownCard>, said: Said): Promise<boolean> {
  const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))
  await loadWasm(new Uint8Array(wasm).buffer)
  let all = true
  for (const file of files) {
    try {
      const photo = await openPhoto(file)
      said.line(lineOf(file, await measure(photo, readCodes, { cardOf: (batch) => cards.get(batch) })))
    } catch (err) {
      if (!(err instanceof Unreadable)) throw err
      all = false
      said.line({ file, ...nothing, problems: [err.message] })
      said.complaint(`${file}: ${err.message}`)
    }
  }
  return all
}

const nothing: Omit<Line, 'file' | 'problems'> = { card: null, lab: null, se: null, spread_cm: null, spread_se_cm: null, quality: 0 }

function lineOf(file: string, { card, lab, se, spread, spreadSE, quality, problems }: Measurement): Line {
  const three = (c: typeof lab) => (c ? ([rounded(c.L), rounded(c.a), rounded(c.b)] as const) : null)
  return {
    file, card: card?.batch ?? null, lab: three(lab), se: three(se),
    spread_cm: spread === undefined ? null : rounded(spread), spread_se_cm: spreadSE === undefined ? null : rounded(spreadSE),
    quality, problems,
  }
}

/** To more than is ever known. */
const rounded = (v: number) => Math.round(v * 1e4) / 1e4
