// Bringing photos to the shed, as a pure machine: events go in, effects come out. It holds no network,
// no timer and no database; time is told with each event, in milliseconds that never go back.
//
// The smallest goes first. Before the first piece of a photo the shed is asked how much of it it has, and
// again whenever an answer was not what it should be: so whatever was lost on the way, it goes on from
// what the shed says.

import type { PhotoHash } from '../crop/nouns'
import { Patience } from './patience'

/** How many hashes the shed takes in one question, and bytes in one piece. */
export const mostAsked = 500
const firstPiece = 256 << 10
const leastPiece = 16 << 10
const mostPiece = 1 << 20

/** How long a photo that the shed would not take as it came waits, while others go on. */
const asideFor = 300_000

/** Refusals of the photo itself. */
const final = new Set(['type', 'pixels', 'damaged', 'trailing', 'lost', 'removed'])
/** Refusals that say nothing of the photo: none would be taken now. */
const general = new Set(['crowded', 'full', 'no_room'])

/** A photo of this device that stands at a plant, with its bytes here, and not refused for good. */
export interface Wanted {
  readonly hash: PhotoHash
  /** Bytes. */
  readonly size: number
  readonly state: 'waiting' | 'sent'
}

export type Answer =
  /** Of those asked for, the shed lacks these. */
  | { readonly kind: 'missing'; readonly hashes: readonly PhotoHash[] }
  /** So many bytes are there; length is what the photo was announced with, 0 where that was not told. */
  | { readonly kind: 'has'; readonly offset: number; readonly whole: boolean; readonly length: number }
  | Refusal
  | { readonly kind: 'timeout' | 'broke' }

export interface Refusal {
  readonly kind: 'refused'
  /** Of HTTP; 0 where this device itself cannot send it, with the code 'lost'. */
  readonly status: number
  readonly code: string
  /** Bytes that are there, and bytes that a photo may have, where that was told. */
  readonly offset: number | undefined
  readonly limit: number | undefined
}

export type SendingEvent =
  /** The line to the shed stands anew, or is gone. */
  | { readonly kind: 'up' | 'down' }
  /** There may be something to do: time went by, a photo was stored, or put to a plant or taken away. */
  | { readonly kind: 'look' }
  | { readonly kind: 'answer'; readonly turn: number; readonly answer: Answer }
  /** A mark is stored, or could not be. */
  | { readonly kind: 'marked' | 'not_marked'; readonly turn: number }

export interface Mark {
  readonly hash: PhotoHash
  readonly state: 'waiting' | 'sent'
  /** Code of a refusal for good, or ''. */
  readonly refusal: string
}

/** One at a time is carried out; its outcome comes back with the same turn. */
export type SendingEffect =
  | { readonly kind: 'ask'; readonly turn: number; readonly hashes: readonly PhotoHash[] }
  | { readonly kind: 'head'; readonly turn: number; readonly hash: PhotoHash }
  | { readonly kind: 'piece'; readonly turn: number; readonly hash: PhotoHash; readonly size: number; readonly offset: number; readonly length: number }
  | { readonly kind: 'mark'; readonly turn: number; readonly marks: readonly Mark[] }
  /** Whatever is being carried out is not waited for any more. */
  | { readonly kind: 'abort' }

type Asked = Exclude<SendingEffect, { readonly kind: 'abort' }>

interface UnderWay {
  readonly hash: PhotoHash
  readonly size: number
  /** How much of it the shed has; undefined where that is to be asked. */
  offset: number | undefined
  /** The most that it ever had on this line. */
  reached: number
}

export class Sending {
  /** Why the shed takes no photo at all for the moment: 'full', 'no_room', 'crowded', or ''. */
  trouble = ''
  private up = false
  private turn = 0
  private asked: Asked | undefined
  /** Those about which the shed is still to be asked on this line. */
  private unasked: readonly PhotoHash[] = []
  private current: UnderWay | undefined
  private piece = firstPiece
  private readonly patience = new Patience()
  private readonly aside = new Map<PhotoHash, number>()

  constructor(private readonly wanted: () => readonly Wanted[]) {}

  handle(event: SendingEvent, now: number): SendingEffect[] {
    switch (event.kind) {
      case 'up':
        return this.begin(now)
      case 'down':
        return this.stop()
      case 'look':
        return this.goOn(now)
    }
    if (event.turn !== this.asked?.turn) return [] // of before the line was lost
    const asked = this.asked
    this.asked = undefined
    if (event.kind === 'not_marked') for (const { hash } of marksOf(asked)) this.putAside(hash, now)
    return event.kind === 'answer' ? this.hear(asked, event.answer, now) : this.goOn(now)
  }

  /** When the machine wants its next 'look', which may be a moment that has passed; undefined for never. */
  nextLook(): number | undefined {
    if (!this.up || this.asked) return undefined
    if (this.unasked.length > 0) return this.patience.until
    const from = this.wanted().filter(({ state }) => state === 'waiting').map(({ hash }) => this.aside.get(hash) ?? 0)
    return from.length === 0 ? undefined : Math.max(this.patience.until, Math.min(...from))
  }

  /** A shed that was restored may lack what it had: it is asked for everything that could be sent again. */
  private begin(now: number): SendingEffect[] {
    const abort = this.stop()
    this.up = true
    this.unasked = this.wanted().map(({ hash }) => hash)
    this.aside.clear()
    this.patience.atOnce()
    return [...abort, ...this.goOn(now)]
  }

  private stop(): SendingEffect[] {
    const busy = this.asked !== undefined
    this.up = false
    this.asked = this.current = undefined
    return busy ? [{ kind: 'abort' }] : []
  }

  private goOn(now: number): SendingEffect[] {
    if (!this.up || this.asked || now < this.patience.until) return []
    if (this.unasked.length > 0) return this.ask({ kind: 'ask', turn: ++this.turn, hashes: this.unasked.slice(0, mostAsked) })
    const photo = this.next(now)
    if (!photo) return []
    const { hash, size } = photo
    if (this.current?.hash !== hash) this.current = { hash, size, offset: undefined, reached: 0 }
    const { offset } = this.current
    if (offset === undefined) return this.ask({ kind: 'head', turn: ++this.turn, hash })
    // All may be there without having been taken as a photo yet: then a piece of nothing asks for it.
    return this.ask({ kind: 'piece', turn: ++this.turn, hash, size, offset, length: Math.min(this.piece, size - offset) })
  }

  private ask(effect: Asked): SendingEffect[] {
    this.asked = effect
    return [effect]
  }

  /** The one under way, or the smallest. */
  private next(now: number): Wanted | undefined {
    const waiting = this.wanted().filter(({ hash, state }) => state === 'waiting' && !this.isAside(hash, now))
    const smallest = (a: Wanted, b: Wanted) => (b.size < a.size ? b : a)
    return waiting.find(({ hash }) => hash === this.current?.hash) ?? (waiting.length > 0 ? waiting.reduce(smallest) : undefined)
  }

  private isAside(hash: PhotoHash, now: number): boolean {
    return now < (this.aside.get(hash) ?? -Infinity)
  }

  private putAside(hash: PhotoHash, now: number): void {
    this.aside.set(hash, now + asideFor)
    this.current = undefined
  }

  private hear(asked: Asked, answer: Answer, now: number): SendingEffect[] {
    switch (answer.kind) {
      case 'missing':
        return asked.kind === 'ask' ? this.told(asked.hashes, new Set(answer.hashes), now) : this.failed(now)
      case 'has':
        return this.current ? this.came(asked, answer, now) : this.failed(now)
      case 'refused':
        return this.refused(asked, answer, now)
      case 'timeout':
        this.shrink()
        return this.failed(now)
      case 'broke':
        return this.failed(now)
    }
  }

  /** Only what differs from what is known is worth noting. */
  private told(hashes: readonly PhotoHash[], missing: ReadonlySet<PhotoHash>, now: number): SendingEffect[] {
    this.patience.gotOn()
    this.unasked = this.unasked.slice(hashes.length)
    const told = (hash: PhotoHash): Mark => ({ hash, state: missing.has(hash) ? 'waiting' : 'sent', refusal: '' })
    const known = new Map(this.wanted().map(({ hash, state }) => [hash, state]))
    return this.mark(hashes.map(told).filter(({ hash, state }) => known.has(hash) && known.get(hash) !== state), now)
  }

  private mark(marks: readonly Mark[], now: number): SendingEffect[] {
    return marks.length === 0 ? this.goOn(now) : this.ask({ kind: 'mark', turn: ++this.turn, marks })
  }

  private came(asked: Asked, { offset, whole, length }: Answer & { kind: 'has' }, now: number): SendingEffect[] {
    const current = this.current!
    this.trouble = ''
    if (whole) {
      this.patience.gotOn()
      return this.mark([{ hash: current.hash, state: 'sent', refusal: '' }], now)
    }
    this.reach(current, offset)
    if (asked.kind === 'piece') return this.pieceCame(asked, current, offset, now)
    // Announced with another length by somebody, a photo begins anew.
    current.offset = offset <= current.size && (length === 0 || length === current.size) ? offset : 0
    return this.goOn(now)
  }

  private pieceCame(asked: Asked & { kind: 'piece' }, current: UnderWay, offset: number, now: number): SendingEffect[] {
    if (offset !== asked.offset + asked.length || asked.length === 0) return this.failed(now)
    if (asked.length === this.piece) this.piece = Math.min(2 * this.piece, mostPiece)
    current.offset = offset
    return this.goOn(now)
  }

  /** Tells whether the shed has more of it than before. */
  private reach(current: UnderWay, offset: number): boolean {
    if (offset <= current.reached) return false
    current.reached = offset
    this.patience.gotOn()
    return true
  }

  private refused(asked: Asked, refusal: Refusal, now: number): SendingEffect[] {
    const { status, code, offset } = refusal
    if (status === 401 || status === 403) return this.notNow(now)
    if (asked.kind === 'ask' && status < 500) this.unasked = this.unasked.slice(asked.hashes.length) // each is asked for by itself
    if (general.has(code) || status >= 500 || asked.kind === 'ask') return this.failed(now, code)
    const current = this.current!
    if (isFinal(refusal, current)) {
      this.current = undefined
      return this.mark([{ hash: current.hash, state: 'waiting', refusal: code }], now)
    }
    if (status === 409 && offset !== undefined && offset <= current.size && this.reach(current, offset)) {
      current.offset = offset
      return this.goOn(now)
    }
    if (status === 408 || status === 413) this.shrink() // refused by the shed, or by something before it
    else if (status !== 409 && code !== 'length') this.putAside(current.hash, now)
    return this.failed(now)
  }

  private shrink(): void {
    this.piece = Math.max(this.piece >> 1, leastPiece)
  }

  /** Not let in, or not with a photo: a person settles that, elsewhere. */
  private notNow(now: number): SendingEffect[] {
    this.current = undefined
    this.patience.long(now)
    return []
  }

  private failed(now: number, trouble = ''): SendingEffect[] {
    if (this.current) this.current.offset = undefined
    this.trouble = general.has(trouble) ? trouble : ''
    this.patience.failed(now)
    return []
  }
}

/** Whether it would be refused again as it is. */
function isFinal({ code, limit }: Refusal, { size }: UnderWay): boolean {
  return final.has(code) || (code === 'too_large' && limit !== undefined && size > limit)
}

function marksOf(asked: Asked): readonly Mark[] {
  return asked.kind === 'mark' ? asked.marks : []
}
