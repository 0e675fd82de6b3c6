// What keeps a change from being stored, whatever its meaning: bounds, identity, text. The limits
// are those of syncproto/check.go.

import { textLength } from './bytes'
import type { Change, Fact, Scope, Value } from './change'
import { validStamp } from './order'

export const maxFrameChanges = 2_000
/** Canonical bytes of all changes of a frame. */
export const maxFrameBytes = 4 << 20
/** Canonical bytes of one change. */
export const maxChangeBytes = 1 << 20
export const maxOperationChanges = 32_000
/** Canonical bytes of all changes of an operation. */
export const maxOperationBytes = 16 << 20
export const maxTextBytes = 8_192
/** Ids, types, fields, ops, persons. */
const maxNameBytes = 128
export const maxListLength = 1_000
export const maxExtra = 16
export const scopes: readonly Scope[] = ['field', 'shed', 'money']

const uuidForm = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/
export const extraForm = /^[a-z_]+$/
const loneSurrogate = /\p{Surrogate}/u

/** Tells why the change cannot be kept, or undefined where nothing hinders it. */
export function check(c: Change): string | undefined {
  if (!uuidForm.test(c.incarnation)) return `incarnation ${c.incarnation} is not a UUID in lower case`
  if (!Number.isSafeInteger(c.seq) || c.seq < 1) return `seq ${c.seq} is out of bounds`
  if (!validStamp(c.stamp)) return `stamp ${c.stamp.l}.${c.stamp.c} is out of bounds`
  if (c.rest < 0 || c.rest >= maxOperationChanges) return `rest ${c.rest} is out of bounds`
  return checkPerson(c.person) ?? checkFact(c)
}

/** The same for whoever says it, who may be nobody (''). */
export function checkPerson(person: string): string | undefined {
  const why = person === '' ? undefined : checkName(person)
  return why && `person: ${why}`
}

/** The same for what a fact says, before it is a change. */
export function checkFact(f: Fact): string | undefined {
  if (!scopes.includes(f.scope)) return `scope ${f.scope} is unknown`
  for (const name of ['op', 'type', 'id', 'field'] as const) {
    const why = checkName(f[name])
    if (why) return `${name}: ${why}`
  }
  const why = checkValue(f.value)
  return why ? `value: ${why}` : checkExtra(f.extra ?? {})
}

function checkExtra(extra: Readonly<Record<string, Value>>): string | undefined {
  const parts = Object.entries(extra)
  if (parts.length > maxExtra) return `it has more than ${maxExtra} extra parts`
  for (const [name, value] of parts) {
    if (!extraForm.test(name)) return `extra part ${name}: names are a to z and _`
    const why = checkValue(value)
    if (why) return `extra part ${name}: ${why}`
  }
  return undefined
}

function checkValue(v: Value): string | undefined {
  if (typeof v === 'number') return Number.isSafeInteger(v) ? undefined : `${v} is beyond 2^53-1`
  if (typeof v === 'string') return checkText(v, maxTextBytes)
  if (v.length > maxListLength) return `a list of ids is longer than ${maxListLength}`
  for (const id of v) {
    const why = checkName(id)
    if (why) return why
  }
  return undefined
}

function checkName(s: string): string | undefined {
  return s === '' ? 'it is empty' : checkText(s, maxNameBytes)
}

function checkText(s: string, limit: number): string | undefined {
  if (3 * s.length > limit && textLength(s) > limit) return `a text is longer than ${limit} bytes`
  if (/[\u0000\uFFFD]/.test(s) || loneSurrogate.test(s)) return 'a text holds a character that cannot be kept'
  return s.normalize('NFC') === s ? undefined : 'a text is not NFC'
}

/** Whether a text could stand as a value, or as a name. */
export function fitsText(s: string): boolean {
  return checkText(s, maxTextBytes) === undefined
}

export function fitsName(s: string): boolean {
  return checkName(s) === undefined
}
