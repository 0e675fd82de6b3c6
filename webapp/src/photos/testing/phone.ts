// A phone for tests that sends photos: the real machine over a disk in memory and a line that loses what
// it is told to.

import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import type { PhotoHash } from '../../crop/nouns'
import type { Bytes } from '../photo_db'
import type { Answer, Mark, SendingEffect, SendingEvent, Wanted } from '../sending'
import { Sending } from '../sending'
import type { ShedModel } from './shed_model'

/**
 * What becomes of a request: it does not come to the shed; half of its piece does, and the line breaks; its
 * answer is lost; half of its piece comes, and it takes too long.
 */
export type Fault = 'ok' | 'lost' | 'half' | 'no_answer' | 'slow'

type Request = Exclude<SendingEffect, { readonly kind: 'mark' | 'abort' }>

interface Kept extends Wanted {
  readonly refusal: string
}

export class Phone {
  readonly disk = new Map<PhotoHash, Kept>()
  /** Taken away from their plants. */
  readonly away = new Set<PhotoHash>()
  now = 0
  /** Is asked at every request. */
  fault: () => Fault = () => 'ok'
  /** Nothing that the shed says can be stored. */
  diskFails = false
  private readonly bytes = new Map<PhotoHash, Bytes>()
  private sending = this.machine()
  private todo: SendingEffect[] = []

  constructor(private readonly shed: ShedModel) {}

  /** A photo of so many bytes; the same seed makes the same bytes. */
  take(size: number, seed: number): PhotoHash {
    const bytes = new Uint8Array(size).map((_, i) => (i * 31 + (i >> 8) * 13 + (seed >> (8 * (i % 3)))) & 255)
    const hash = bytesToHex(sha256(bytes)) as PhotoHash
    this.bytes.set(hash, bytes)
    if (!this.disk.has(hash)) this.disk.set(hash, { hash, size, state: 'waiting', refusal: '' })
    this.tell({ kind: 'look' })
    return hash
  }

  tell(event: SendingEvent): void {
    this.todo.push(...this.sending.handle(event, this.now))
  }

  get trouble(): string {
    return this.sending.trouble
  }

  get nextLook(): number | undefined {
    return this.sending.nextLook()
  }

  /** The app was killed and opened again: what the machine knew is gone. */
  restart(): void {
    this.sending = this.machine()
    this.todo = []
  }

  /** Carries out one effect; false where there is none. */
  step(): boolean {
    const effect = this.todo.shift()
    if (!effect) return false
    if (effect.kind === 'mark') this.mark(effect.turn, effect.marks)
    else if (effect.kind !== 'abort') this.tell({ kind: 'answer', turn: effect.turn, answer: this.ask(effect) })
    return true
  }

  /** Goes on, waiting where the machine waits, until it wants nothing more, or nothing before a moment. */
  run(until = Infinity): void {
    for (let steps = 0; steps < 10_000; steps++) {
      if (this.step()) continue
      const next = this.nextLook
      if (next === undefined || next > until) return
      this.now = Math.max(this.now, next)
      this.tell({ kind: 'look' })
    }
    throw new Error('the machine never came to rest')
  }

  private machine(): Sending {
    return new Sending(() => [...this.disk.values()].filter(({ hash, refusal }) => refusal === '' && !this.away.has(hash)))
  }

  private mark(turn: number, marks: readonly Mark[]): void {
    if (this.diskFails) return this.tell({ kind: 'not_marked', turn })
    for (const mark of marks) this.disk.set(mark.hash, { ...this.disk.get(mark.hash)!, ...mark })
    this.tell({ kind: 'marked', turn })
  }

  private ask(request: Request): Answer {
    const fault = this.fault()
    if (fault === 'lost') return { kind: 'broke' }
    const answer = this.atShed(request, fault)
    if (fault === 'slow') return { kind: 'timeout' }
    return fault === 'ok' ? answer : { kind: 'broke' }
  }

  private atShed(request: Request, fault: Fault): Answer {
    if (request.kind === 'ask') return this.shed.missing(request.hashes)
    if (request.kind === 'head') return this.shed.head(request.hash)
    const { hash, size, offset, length } = request
    const came = fault === 'half' || fault === 'slow' ? length >> 1 : length
    return this.shed.piece(hash, size, offset, this.bytes.get(hash)!.subarray(offset, offset + came))
  }
}
