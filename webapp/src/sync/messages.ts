// The messages between a phone and the shed (PROTOCOL.md, section 5). Mirrors syncproto/message.go and
// syncproto/binary.go. Members, and kinds of text message, that this version does not know
// are passed over.

import type { Cursor } from '../db/records'
import type { Batch } from '../log/batch'
import { modeAnew, modeLinked } from '../log/batch'
import type { Packer } from '../log/batch_pack'
import type { Unpacker } from '../log/batch_unpack'
import { ByteReader } from '../log/bytes'
import { numberOf, readJSON, ShapeError, textOf } from '../log/canonical'
import type { Scope, Stamp } from '../log/change'
import { maxFrameChanges } from '../log/check'

export const protocolVersion = 1

/** Binary messages begin with their kind; all others are JSON text. */
const kindPush = 1
const kindNews = 2

export interface Hello {
  readonly farm: string
  readonly person: string
  readonly device: string
  readonly incarnation: string
  readonly settled: number
  readonly unsent: number
  readonly news: boolean
  readonly cursor: Cursor | null
  /** Where the log stood when the phone last heard of its own changes (ownPlace); '' for never. */
  readonly own: string
}

export function ownPlace(arrival: number, life: string): string {
  return life === '' ? '' : `${arrival}/${life}`
}

/** What became of settled changes. One that is not named was kept under its stamp as order. */
export interface Outcome {
  readonly orders: readonly SeqOrder[]
  /** The shed holds these under another identity. */
  readonly held: readonly number[]
  readonly refused: readonly Refusal[]
}

export interface Welcome extends Outcome {
  readonly t: 'welcome'
  readonly version: number
  readonly farm: string
  readonly epoch: string
  readonly scopes: readonly Scope[]
  readonly clock: number
  readonly seq: number
  readonly hash: string
  /** Highest seq put aside of a large operation, 0 for none, and the chain value after it. */
  readonly staged: number
  readonly stagedHash: string
  /** Seq up to which the outcome tells all; what lies beyond, up to seq, is pushed again to hear it. */
  readonly told: number
  readonly arrival: number
  /** Of the shed's log; '' where it does not say. */
  readonly life: string
  /** As arrival of a Backup. */
  readonly backedUp: number
  readonly resume: boolean
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

export interface Ack extends Outcome {
  readonly t: 'ack'
  readonly seq: number
  readonly staged: number
  /** The farm's newest arrival number after it. */
  readonly arrival: number
}

export interface News {
  readonly t: 'news'
  readonly batches: readonly ToldBatch[]
  readonly arrival: number
  readonly last: string
  readonly newest: number
}

/** A batch as it came, to be stored, and what is in it. */
export interface ToldBatch {
  readonly packed: Uint8Array
  readonly batch: Batch
}

export interface Pong {
  readonly t: 'pong'
  readonly clock: number
}

/** Up to which arrival number a good backup holds the log of the welcome's epoch; 0 for none. */
export interface Backup {
  readonly t: 'backup'
  readonly arrival: number
}

export type FromShed = Welcome | Refuse | Ack | News | Pong | Backup

export function helloText(hello: Hello): string {
  const { farm, person, device, incarnation, settled, unsent, news, own } = hello
  const cursor = hello.cursor && own !== '' ? { ...hello.cursor, own } : hello.cursor
  return JSON.stringify({
    t: 'hello', versions: [protocolVersion], farm, person, device, incarnation, settled, unsent, news, cursor,
  })
}

export function pushMessage(packer: Packer, batch: Batch): Uint8Array {
  const packed = packer.pack(batch)
  const message = new Uint8Array(1 + packed.length)
  message[0] = kindPush
  message.set(packed, 1)
  return message
}

export const pingText = '{"t":"ping"}'

/**
 * Reads a message of the shed; throws a ShapeError where it is none. The unpacker is that of the
 * conversation.
 */
export function readMessage(data: string | Uint8Array, unpacker: Unpacker): FromShed | undefined {
  return typeof data === 'string' ? readText(data) : readBinary(data, unpacker)
}

function readBinary(data: Uint8Array, unpacker: Unpacker): News {
  const r = new ByteReader(data)
  if (r.byte() !== kindNews) throw new ShapeError('a binary message is no news')
  const [arrival, newest] = [r.uvarint(), r.uvarint()]
  const last = new TextDecoder().decode(r.bytes(r.count(128)))
  const batches = Array.from({ length: r.count(maxFrameChanges) }, () => toldBatch(r.bytes(r.uvarint()), unpacker))
  if (r.left > 0) throw new ShapeError('bytes follow the end of the news')
  return { t: 'news', batches, arrival, last, newest }
}

function toldBatch(data: Uint8Array, unpacker: Unpacker): ToldBatch {
  // The first of a conversation follows others where it is stored, and must forget their names.
  const packed = data.slice()
  if (unpacker.isFresh && packed[0] === modeLinked) packed[0] = modeAnew
  const batch = unpacker.read(data)
  const told = batch.orders?.every(order => order !== null) ?? batch.changes.length === 0
  if (!told) throw new ShapeError('news does not give an order for each change')
  return { packed, batch }
}

function readText(text: string): FromShed | undefined {
  const m = record(readJSON(text))
  switch (textOf(m['t'])) {
    case 'welcome':
      return welcomeOf(m)
    case 'refuse':
      return { t: 'refuse', code: textOf(m['code']), text: textOf(m['text']) }
    case 'ack':
      return { t: 'ack', seq: numberOf(m['seq']), staged: numberOf(m['staged'] ?? 0), ...outcomeOf(m), arrival: numberOf(m['arrival'] ?? 0) }
    case 'pong':
      return { t: 'pong', clock: numberOf(m['clock']) }
    case 'backup':
      return { t: 'backup', arrival: numberOf(m['arrival']) }
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
    clock: numberOf(m['clock']),
    seq: numberOf(m['seq']),
    hash: textOf(m['hash']),
    staged: numberOf(m['staged'] ?? 0),
    stagedHash: textOf(m['staged_hash'] ?? ''),
    told: numberOf(m['told'] ?? m['seq']),
    ...outcomeOf(m),
    arrival: numberOf(m['arrival']),
    life: textOf(m['life'] ?? ''),
    backedUp: numberOf(m['backed_up'] ?? 0),
    resume: m['resume'] === true,
  }
}

function outcomeOf(m: Fields): Outcome {
  return { orders: list(m['orders']).map(seqOrderOf), held: list(m['held']).map(numberOf), refused: list(m['refused']).map(refusalOf) }
}

function seqOrderOf(triple: unknown): SeqOrder {
  const [seq, l, c] = list(triple)
  return { seq: numberOf(seq), order: { l: numberOf(l), c: numberOf(c) } }
}

function refusalOf(item: unknown): Refusal {
  const fields = record(item)
  return { seq: numberOf(fields['seq']), code: textOf(fields['code']) }
}

/** An empty list may be left out, or come as null, as Go writes a nil slice. */
function list(part: unknown): readonly unknown[] {
  if (part === null || part === undefined) return []
  if (!Array.isArray(part)) throw new ShapeError('a part that should be a list is not')
  return part
}

function record(part: unknown): Fields {
  if (typeof part !== 'object' || part === null || Array.isArray(part)) throw new ShapeError('a message is an object')
  return part as Fields
}
