// How things are ordered: stamps by time, text by its bytes. Mirrors syncproto/stamp.go.

import type { Stamp } from './change'

/** The last millisecond of the year 9999. */
export const maxL = 253_402_300_799_999
export const maxC = 65_535

export function compareStamps(a: Stamp, b: Stamp): number {
  return a.l - b.l || a.c - b.c
}

/** The smallest stamp above s: a counter that is full carries into l. */
export function nextStamp(s: Stamp): Stamp {
  return s.c >= maxC ? { l: s.l + 1, c: 0 } : { l: s.l, c: s.c + 1 }
}

export function validStamp(s: Stamp): boolean {
  return s.l >= 0 && s.l <= maxL && s.c >= 0 && s.c <= maxC
}

/**
 * Orders text as its UTF-8 bytes would be. JavaScript's own < goes by UTF-16 units, in which the
 * surrogates of a character beyond U+FFFF sort below U+E000 to U+FFFF.
 */
export function compareText(a: string, b: string): number {
  const shared = Math.min(a.length, b.length)
  for (let i = 0; i < shared; i++) {
    const x = a.charCodeAt(i)
    const y = b.charCodeAt(i)
    if (x !== y) return raised(x) - raised(y)
  }
  return a.length - b.length
}

function raised(unit: number): number {
  return unit >= 0xd800 && unit <= 0xdfff ? unit + 0x10000 : unit
}
