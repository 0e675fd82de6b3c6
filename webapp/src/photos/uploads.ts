// Carries out what the machine of sending.ts wants: asks the shed, waits, and notes what it said.

import type { PhotoHash } from '../crop/nouns'
import { digest } from './digest'
import type { Bytes } from './photo_db'
import type { ShedPhotos } from './requests'
import type { Answer, Mark, Sending, SendingEffect, SendingEvent } from './sending'

/** Milliseconds: the shed itself cuts a piece off after a minute, and decodes a photo after its last. */
const piecePatience = 45_000
const askPatience = 20_000

export interface UploadsOf {
  readonly sending: Sending
  readonly shed: ShedPhotos
  /** The bytes of a photo of this device. */
  bytes(hash: PhotoHash): Promise<Bytes | undefined>
  /** Resolves when the marks are stored. */
  mark(marks: readonly Mark[]): Promise<void>
  /** After each turn of the machine. */
  stirred(): void
}

export class Uploads {
  private timer: ReturnType<typeof setTimeout> | undefined
  private waitingFor: AbortController | undefined
  /** The photo under way, so that it is read and verified once. */
  private held: { readonly hash: PhotoHash; readonly bytes: Bytes } | undefined
  private closed = false

  constructor(private readonly of: UploadsOf) {}

  tell(event: SendingEvent): void {
    if (this.closed) return
    for (const effect of this.of.sending.handle(event, now())) this.perform(effect)
    this.schedule()
    this.of.stirred()
  }

  close(): void {
    this.closed = true
    clearTimeout(this.timer)
    this.waitingFor?.abort()
  }

  private perform(effect: SendingEffect): void {
    if (effect.kind === 'abort') this.waitingFor?.abort()
    else if (effect.kind === 'mark') void this.mark(effect.turn, effect.marks)
    else void this.answer(effect).then(answer => this.tell({ kind: 'answer', turn: effect.turn, answer }))
  }

  private async mark(turn: number, marks: readonly Mark[]): Promise<void> {
    this.held = undefined
    try {
      await this.of.mark(marks)
      this.tell({ kind: 'marked', turn })
    } catch (reason) {
      console.error('noting what the shed said of photos; it is asked again', reason)
      this.tell({ kind: 'not_marked', turn })
    }
  }

  /** Whatever is no answer is a line that broke, or one that took too long. */
  private async answer(effect: Exclude<SendingEffect, { kind: 'mark' | 'abort' }>): Promise<Answer> {
    const waiting = (this.waitingFor = new AbortController())
    let tookTooLong = false
    const timer = setTimeout(() => {
      tookTooLong = true
      waiting.abort()
    }, effect.kind === 'piece' ? piecePatience : askPatience)
    try {
      return await this.ask(effect, waiting.signal)
    } catch (reason) {
      if (!waiting.signal.aborted) console.error('asking the shed about photos', reason)
      return { kind: tookTooLong ? 'timeout' : 'broke' }
    } finally {
      clearTimeout(timer)
    }
  }

  private async ask(effect: Exclude<SendingEffect, { kind: 'mark' | 'abort' }>, signal: AbortSignal): Promise<Answer> {
    const { shed } = this.of
    if (effect.kind === 'ask') return shed.missing(effect.hashes, signal)
    if (effect.kind === 'head') return shed.head(effect.hash, signal)
    const { hash, size, offset, length } = effect
    const bytes = await this.whole(hash)
    if (!bytes) return { kind: 'refused', status: 0, code: 'lost', offset: undefined, limit: undefined }
    return shed.piece(hash, size, offset, bytes.subarray(offset, offset + length), signal)
  }

  /** Undefined where the photo is not what it was any more: the storage of this device has failed. */
  private async whole(hash: PhotoHash): Promise<Bytes | undefined> {
    if (this.held?.hash === hash) return this.held.bytes
    const bytes = await this.of.bytes(hash)
    if (!bytes || (await digest(bytes)) !== hash) return undefined
    this.held = { hash, bytes }
    return bytes
  }

  private schedule(): void {
    clearTimeout(this.timer)
    const next = this.of.sending.nextLook()
    if (next !== undefined) this.timer = setTimeout(() => this.tell({ kind: 'look' }), Math.max(0, next - now()))
  }
}

function now(): number {
  return performance.now()
}
