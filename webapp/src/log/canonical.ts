// The canonical bytes of a change (PROTOCOL.md, section 1; RFC 8785) and reading them back. Mirrors
// syncproto/canonical.go. JSON.stringify of a string is RFC 8785's form once lone surrogates are
// refused, which check does.

import type { Change, Value } from './change'
import { compareText } from './order'

const partCount = 14

/** A text that is not a change, or not a message. */
export class ShapeError extends Error {
  override readonly name = 'ShapeError'
}

/** The change as the JSON array that is sent, hashed and stored. */
export function canonical(c: Change): string {
  const numbers = `${c.seq},${c.stamp.l},${c.stamp.c},${c.rest}`
  const texts = [c.person, c.scope, c.op, c.type, c.id, c.field].map(s => JSON.stringify(s)).join(',')
  const extra = canonicalExtra(c.extra)
  return `[${JSON.stringify(c.incarnation)},${numbers},${texts},${canonicalValue(c.value)},${extra},0]`
}

export function canonicalValue(v: Value): string {
  return typeof v === 'number' ? String(v) : JSON.stringify(v)
}

function canonicalExtra(extra: Change['extra']): string {
  const keys = Object.keys(extra ?? {}).sort(compareText)
  return `{${keys.map(k => `${JSON.stringify(k)}:${canonicalValue(extra![k]!)}`).join(',')}}`
}

/** Reads a change from its text. It checks shapes, not limits: see check. */
export function readChange(text: string): Change {
  return changeOf(readJSON(text))
}

/** Parses JSON whose numbers are written as digits only: 1.0 and 1e3 are refused. */
export function readJSON(text: string): unknown {
  const withoutTexts = text.replace(/"(?:[^"\\]|\\.)*"/g, '')
  if (/\d[.eE]/.test(withoutTexts)) throw new ShapeError('a number is not written as digits only')
  try {
    return JSON.parse(text)
  } catch (cause) {
    throw new ShapeError('the text is not JSON', { cause })
  }
}

/** Makes a change of a parsed array. */
export function changeOf(parts: unknown): Change {
  if (!Array.isArray(parts) || parts.length !== partCount) {
    throw new ShapeError(`a change is an array of ${partCount} parts`)
  }
  if (parts[13] !== 0) throw new ShapeError('the last part of a change is not 0')
  const extra = extraOf(parts[12])
  return {
    incarnation: textOf(parts[0]),
    seq: numberOf(parts[1]),
    stamp: { l: numberOf(parts[2]), c: numberOf(parts[3]) },
    rest: numberOf(parts[4]),
    person: textOf(parts[5]),
    scope: textOf(parts[6]) as Change['scope'],
    op: textOf(parts[7]),
    type: textOf(parts[8]),
    id: textOf(parts[9]),
    field: textOf(parts[10]),
    value: valueOf(parts[11]),
    ...(extra && { extra }),
  }
}

export function textOf(part: unknown): string {
  if (typeof part !== 'string') throw new ShapeError('a part that should be a text is not')
  return part
}

export function numberOf(part: unknown): number {
  if (!Number.isSafeInteger(part)) throw new ShapeError('a part that should be a whole number is not')
  return (part as number) + 0 // -0 is written as 0
}

function valueOf(part: unknown): Value {
  if (typeof part === 'number') return numberOf(part)
  return Array.isArray(part) ? part.map(textOf) : textOf(part)
}

function extraOf(part: unknown): Record<string, Value> | undefined {
  if (typeof part !== 'object' || part === null || Array.isArray(part)) {
    throw new ShapeError('the extra part of a change is not an object')
  }
  const entries = Object.entries(part).map(([k, v]) => [k, valueOf(v)] as const)
  return entries.length > 0 ? Object.fromEntries(entries) : undefined
}
