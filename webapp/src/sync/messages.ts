// The messages between a phone and the shed (PROTOCOL.md, section 4). Mirrors syncproto/message.go.

import type { Cursor } from '../db/records'
import { changeOf, numberOf, readJSON, ShapeError, textOf } from '../log/canonical'
import type { Change, Scope, Stamp } from '../log/change'
import { check } from '../log/check'

export const protocolVersion = 1

export interface Hello {
  readonly farm: string
  readonly person: string
  readonly device: string
  readonly incarnation: string
  readonly cursor: Cursor | null
  readonly unsent: number
}

export interface Welcome {
  readonly t: 'welcome'
  readonly version: number
  readonly farm: string
  readonly epoch: string
  readonly scopes: readonly Scope[]
  readonly seq: number
  readonly hash: string
  readonly clock: number
  readonly arrival: number
  readonly resume: boolean
  readonly refused: readonly Refusal[]
}

export interface Refuse {
  readonly t: 'refuse'
  readonly code: string
  readonly text: string
}

export interface Refusal {
  readonly seq: number
  readonly code: string
}

export interface SeqOrder {
  readonly seq: number
  readonly order: Stamp
}

export interface Ack {
  readonly t: 'ack'
  readonly seq: number
  readonly orders: readonly SeqOrder[]
  readonly refused: readonly Refusal[]
}

export interface News {
  readonly t: 'news'
  readonly changes: readonly Change[]
  readonly orders: readonly Stamp[]
  readonly arrival: number
  readonly last: string
  readonly newest: number
}

export interface Pong {
  readonly t: 'pong'
  readonly clock: number
}

export type FromShed = Welcome | Refuse | Ack | News | Pong

export function helloText(hello: Hello): string {
  const { farm, person, device, incarnation, cursor, unsent } = hello
  return JSON.stringify({
    t: 'hello', versions: [protocolVersion], farm, person, device, incarnation, cursor, unsent,
  })
}

/** Changes travel as their frozen bytes. */
export function pushText(texts: readonly string[], orders: readonly SeqOrder[]): string {
  const known = orders.map(o => `[${o.seq},${o.order.l},${o.order.c}]`)
  return `{"t":"push","changes":[${texts.join(',')}]${known.length > 0 ? `,"orders":[${known.join(',')}]` : ''}}`
}

export const pingText = '{"t":"ping"}'

/** Reads a message of the shed; throws a ShapeError where it is none. Unknown kinds are undefined. */
export function readMessage(text: string): FromShed | undefined {
  const m = record(readJSON(text))
  switch (m['t']) {
    case 'welcome':
      return welcomeOf(m)
    case 'refuse':
      return { t: 'refuse', code: textOf(m['code']), text: textOf(m['text']) }
    case 'ack':
      return { t: 'ack', seq: numberOf(m['seq']), orders: list(m['orders']).map(seqOrderOf), refused: refusalsOf(m['refused']) }
    case 'news':
      return newsOf(m)
    case 'pong':
      return { t: 'pong', clock: numberOf(m['clock']) }
    default:
      return undefined
  }
}

type Fields = Readonly<Record<string, unknown>>

function welcomeOf(m: Fields): Welcome {
  return {
    t: 'welcome',
    version: numberOf(m['version']),
    farm: textOf(m['farm']),
    epoch: textOf(m['epoch']),
    scopes: list(m['scopes']).map(textOf) as Scope[],
    seq: numberOf(m['seq']),
    hash: textOf(m['hash']),
    clock: numberOf(m['clock']),
    arrival: numberOf(m['arrival']),
    resume: m['resume'] === true,
    refused: refusalsOf(m['refused']),
  }
}

function newsOf(m: Fields): News {
  const changes = list(m['changes']).map(checkedChange)
  const orders = list(m['orders']).map(pair => stampOf(list(pair)))
  if (orders.length !== changes.length) throw new ShapeError('news does not give an order for each change')
  const [arrival, newest] = [numberOf(m['arrival']), numberOf(m['newest'])]
  return { t: 'news', changes, orders, arrival, last: textOf(m['last']), newest }
}

function checkedChange(parts: unknown): Change {
  const change = changeOf(parts)
  const why = check(change)
  if (why) throw new ShapeError(`a change of the news cannot be kept: ${why}`)
  return change
}

function seqOrderOf(triple: unknown): SeqOrder {
  const [seq, ...order] = list(triple)
  return { seq: numberOf(seq), order: stampOf(order) }
}

function stampOf(pair: readonly unknown[]): Stamp {
  return { l: numberOf(pair[0]), c: numberOf(pair[1]) }
}

function refusalsOf(part: unknown): Refusal[] {
  return list(part).map(item => {
    const fields = record(item)
    return { seq: numberOf(fields['seq']), code: textOf(fields['code']) }
  })
}

/** An empty list may come as null, as Go writes a nil slice. */
function list(part: unknown): readonly unknown[] {
  if (part === null || part === undefined) return []
  if (!Array.isArray(part)) throw new ShapeError('a part that should be a list is not')
  return part
}

function record(part: unknown): Fields {
  if (typeof part !== 'object' || part === null || Array.isArray(part)) throw new ShapeError('a message is an object')
  return part as Fields
}
