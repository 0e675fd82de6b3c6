// Why something becomes of a plant, as the shed says it and as a decision keeps it: a code, and what it speaks of.
// Mirrors internal/division/why.go. Money is no part of what is kept, since crew read decisions too.

import type { ColourID } from './nouns'
import type { Cents } from './sale_nouns'

export interface Why {
  readonly code: string
  /** As many stems as the middle plant of its kind. */
  readonly times?: number
  /** Seasons in the ground. */
  readonly age?: number
  /** More, or of the goal less, than another way; of a colour, what one more stem brings. */
  readonly cents?: Cents
  readonly colour?: ColourID
}

/** The grower decided it. */
export const byHand: Why = { code: 'by_hand' }

/** "gives_most:180" for 1.8 times, "colour_pays:c1", "too_young:1", "open_centre". */
export function wordOfWhy({ code, times, age, colour }: Why): string {
  const of = times !== undefined ? Math.round(times * 100) : colour ?? age
  return of === undefined ? code : `${code}:${of}`
}

/** What a decision kept. */
export function parseWhy(word: string): Why {
  const at = word.indexOf(':')
  if (at < 0) return { code: word }
  const [code, of] = [word.slice(0, at), word.slice(at + 1)]
  if (code.startsWith('gives_')) return { code, times: Number(of) / 100 }
  return code.startsWith('too_') ? { code, age: Number(of) } : { code, colour: of as ColourID }
}
