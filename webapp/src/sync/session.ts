// The conversation with the shed (PROTOCOL.md, section 4) as a pure machine: events go in, effects
// come out. It holds no socket, no timer and no database; time is told with each event.

import { ShapeError } from '../log/canonical'
import type { Write } from '../db/records'
import type { Book } from './book'
import { planFraming } from './framing'
import { cursorOf, planLevel, planNews, planRereading } from './history'
import { helloText, pingText, protocolVersion, pushText, readMessage } from './messages'
import type { Ack, FromShed, News, Refuse, Welcome } from './messages'
import { nextPush } from './pushing'
import { planReincarnation } from './reincarnation'
import { pastIsProven, planAck, planWelcome, unsettled } from './settling'

/** A moment: `now` never goes back and drives the waiting; `wall` is ms since 1970 and may be wrong. */
export interface Moment {
  readonly now: number
  readonly wall: number
}

export type SessionEvent =
  | { readonly kind: 'opened' | 'closed' | 'stored' | 'store_failed' | 'tick' }
  /** Something was wrong in the app itself while an event was handled or carried out. */
  | { readonly kind: 'failed' }
  /** The page came to the front, the network returned, or a person asks to try again. */
  | { readonly kind: 'wake'; readonly insist?: boolean }
  /** Something was recorded. */
  | { readonly kind: 'recorded' }
  /** Another person holds the phone. */
  | { readonly kind: 'person' }
  | { readonly kind: 'message'; readonly text: string }

/** Carried out in turn. After a 'store' that succeeded the machine is told 'stored'. */
export type Effect =
  | { readonly kind: 'connect' }
  | { readonly kind: 'close' }
  | { readonly kind: 'send'; readonly text: string }
  | { readonly kind: 'store'; readonly writes: readonly Write[] }

export interface Identity {
  readonly device: string
  person(): string
  newIncarnation(): string
}

export type Link = 'offline' | 'connecting' | 'catching_up' | 'live' | 'refused'

const silence = 10_000
const firstWait = 1_000
const longestWait = 30_000
/** After a refusal that trying again at once would not heal. */
const refusedWait = 300_000
/** Taps coalesce until this long after the last, and no longer than that after the first. */
const quiet = 300
const longestQuiet = 2_000
/** Pushes under way at a time. */
const window = 4
/** Refusals that need something to change before trying again can help. */
const fatal = new Set(['version', 'farm', 'malformed', 'reused', 'split', 'too_large'])

export class Session {
  link: Link = 'offline'
  refusal: string | undefined
  clockOffset: number | undefined
  acknowledged = 0
  /** Highest seq sent on this line, or settled where there is none. */
  sentTo: number
  /** When a message last said that nothing was missing, ms since 1970. */
  levelAt = 0
  progress: { done: number; total: number } | undefined
  /** The arrival number at which the catch-up ends. */
  private target = 0
  private retryAt: number | undefined = 0
  private wait = firstWait
  private heardAt = 0
  private pingedAt: number | undefined
  private unprovenBefore = false
  private reusedBefore = false
  private firstTap: number | undefined
  private lastTap = 0
  private readonly underWay: number[] = []

  constructor(
    private readonly book: Book,
    private readonly identity: Identity,
  ) {
    this.sentTo = book.pen.settled
  }

  handle(event: SessionEvent, at: Moment): Effect[] {
    switch (event.kind) {
      case 'opened':
        return this.greet(at)
      case 'closed':
      case 'store_failed':
        return this.drop(at)
      case 'failed':
        this.wait = longestWait
        return this.drop(at)
      case 'message':
        return this.hear(event.text, at)
      case 'recorded':
        this.firstTap ??= at.now
        this.lastTap = at.now
        return this.goOn(at)
      case 'wake':
        return this.wake(event.insist ?? false, at)
      case 'person':
        return this.link === 'offline' || this.link === 'refused' ? [] : this.reconnect(at)
      case 'stored':
        if (this.open()) this.wait = firstWait
        return this.goOn(at)
      case 'tick':
        return this.goOn(at)
    }
  }

  /** When the machine wants its next 'tick', by the clock of Moment.now; undefined for never. */
  nextTick(): number | undefined {
    if (this.link === 'offline' || this.link === 'refused') return this.retryAt
    const waiting = !this.open() ? this.heardAt + silence : this.pingedAt
    const beat = (waiting ?? this.heardAt) + silence
    const frame = this.book.drafts.size > 0 && this.open() ? this.frameAt() : Infinity
    return Math.min(beat, frame)
  }

  private open(): boolean {
    return this.link === 'catching_up' || this.link === 'live'
  }

  /** Does whatever is due now. */
  private goOn(at: Moment): Effect[] {
    if (this.link === 'offline' || this.link === 'refused') {
      return this.retryAt !== undefined && at.now >= this.retryAt ? this.connect(at) : []
    }
    if (this.lineIsDead(at)) return this.drop(at)
    const beat = this.heartbeat(at)
    if (!this.open()) return beat
    return [...beat, ...this.send(at)]
  }

  private lineIsDead(at: Moment): boolean {
    const asked = this.open() ? this.pingedAt : this.heardAt + silence
    return asked !== undefined && at.now >= asked + silence
  }

  private heartbeat(at: Moment): Effect[] {
    if (!this.open() || this.pingedAt !== undefined || at.now < this.heardAt + silence) return []
    this.pingedAt = at.now
    return [{ kind: 'send', text: pingText }]
  }

  /** Frames what is ripe, or else pushes what is framed. */
  private send(at: Moment): Effect[] {
    const effects: Effect[] = []
    while (this.underWay.length < window) {
      const push = nextPush(this.book, this.sentTo)
      if (!push) break
      this.sentTo = push.to
      this.underWay.push(push.to)
      effects.push({ kind: 'send', text: pushText(push.texts, push.orders) })
    }
    const ripe = this.underWay.length < window && this.book.drafts.size > 0 && at.now >= this.frameAt()
    if (!ripe) return effects
    this.firstTap = undefined
    return [...effects, { kind: 'store', writes: planFraming(this.book) }]
  }

  private frameAt(): number {
    if (this.underWay.length >= window) return Infinity
    return this.firstTap === undefined ? 0 : Math.min(this.lastTap + quiet, this.firstTap + longestQuiet)
  }

  private connect(at: Moment): Effect[] {
    this.link = 'connecting'
    this.refusal = undefined
    this.retryAt = undefined
    this.heardAt = at.now
    return [{ kind: 'connect' }]
  }

  private greet(at: Moment): Effect[] {
    this.heardAt = at.now
    const { pen, farm, reading, drafts } = this.book
    const framed = unsettled(this.book).reduce((n, f) => n + f.changes.length, 0)
    const drafted = [...drafts.values()].reduce((n, d) => n + d.facts.length, 0)
    return [{
      kind: 'send',
      text: helloText({
        farm, incarnation: pen.incarnation, cursor: cursorOf(reading), unsent: framed + drafted,
        device: this.identity.device, person: this.identity.person(),
      }),
    }]
  }

  private hear(text: string, at: Moment): Effect[] {
    this.heardAt = at.now
    this.pingedAt = undefined
    try {
      const message = readMessage(text)
      const effects = message ? this.answer(message, at) : this.goOn(at)
      if (this.link === 'live') this.levelAt = at.wall
      return effects
    } catch (cause) {
      if (!(cause instanceof ShapeError)) throw cause
      return this.refuse('malformed', at)
    }
  }

  private answer(message: FromShed, at: Moment): Effect[] {
    switch (message.t) {
      case 'welcome':
        return this.welcomed(message, at)
      case 'refuse':
        return this.refused(message, at)
      case 'ack':
        return this.acked(message, at)
      case 'news':
        return this.told(message, at)
      case 'pong':
        this.clockOffset = message.clock - at.wall
        return this.goOn(at)
    }
  }

  private welcomed(welcome: Welcome, at: Moment): Effect[] {
    if (this.link !== 'connecting') throw new ShapeError('a second welcome')
    if (welcome.version !== protocolVersion) return this.refuse('version', at)
    if (welcome.farm !== this.book.farm) return this.refuse('farm', at)
    this.clockOffset = welcome.clock - at.wall
    if (!pastIsProven(this.book, welcome)) {
      const writes = planReincarnation(this.book, this.identity.newIncarnation(), welcome.epoch)
      // A shed that follows no past at all must not be asked again and again.
      const line = this.unprovenBefore ? this.drop(at) : this.reconnect(at)
      this.unprovenBefore = true
      return [...line, { kind: 'store', writes }]
    }
    this.unprovenBefore = false
    this.target = welcome.arrival
    this.sentTo = welcome.seq
    return [{ kind: 'store', writes: [...planWelcome(this.book, welcome), ...this.planReading(welcome, at)] }]
  }

  private planReading(welcome: Welcome, at: Moment): Write[] {
    const { epoch, scopes, resume, arrival } = welcome
    if (resume && cursorOf(this.book.reading)) {
      this.reach(cursorOf(this.book.reading)!.arrival)
      return planLevel(this.book, arrival, at.wall)
    }
    this.reach(0)
    return planRereading(this.book, epoch, scopes, arrival, at.wall)
  }

  /** Notes how far the catch-up has come. */
  private reach(arrival: number): void {
    const done = arrival >= this.target
    this.link = done ? 'live' : 'catching_up'
    this.progress = done ? undefined : { done: arrival, total: this.target }
  }

  private acked(ack: Ack, at: Moment): Effect[] {
    if (!this.open() || ack.seq > this.sentTo) throw new ShapeError('an acknowledgement of what was not sent')
    const before = this.book.pen.settled
    if (ack.seq > before) this.reusedBefore = false
    this.acknowledged += Math.max(0, ack.seq - before)
    while (this.underWay.length > 0 && this.underWay[0]! <= ack.seq) this.underWay.shift()
    return [{ kind: 'store', writes: planAck(this.book, ack, at.wall) }]
  }

  private told(news: News, at: Moment): Effect[] {
    if (!this.open()) throw new ShapeError('news before a welcome')
    const writes = planNews(this.book, news, this.target, at.wall)
    this.reach(news.arrival)
    return [{ kind: 'store', writes }]
  }

  private refused({ code }: Refuse, at: Moment): Effect[] {
    // The next welcome tells a copy of a phone that its past is another's, and it goes on.
    if (code === 'reused' && !this.reusedBefore) {
      this.reusedBefore = true
      return this.reconnect(at)
    }
    return fatal.has(code) ? this.refuse(code, at) : [{ kind: 'close' }, ...this.drop(at)]
  }

  /** Says so, and tries again after a long while or when a person asks. */
  private refuse(code: string, at: Moment): Effect[] {
    this.forgetLine()
    this.link = 'refused'
    this.refusal = code
    this.retryAt = at.now + refusedWait
    return [{ kind: 'close' }]
  }

  /** The line is gone: tries again after a while. */
  private drop(at: Moment): Effect[] {
    if (this.link === 'refused' || this.link === 'offline') return []
    this.forgetLine()
    this.retryAt = at.now + this.wait
    this.wait = Math.min(2 * this.wait, longestWait)
    return [{ kind: 'close' }]
  }

  private reconnect(at: Moment): Effect[] {
    this.forgetLine()
    this.retryAt = at.now
    return [{ kind: 'close' }]
  }

  private wake(insist: boolean, at: Moment): Effect[] {
    if (this.link === 'offline' || (this.link === 'refused' && insist)) return this.connect(at)
    if (!this.open() || this.pingedAt !== undefined) return this.goOn(at)
    // A line that slept may be dead without anybody having said so.
    this.pingedAt = at.now
    return [{ kind: 'send', text: pingText }, ...this.goOn(at)]
  }

  private forgetLine(): void {
    this.link = 'offline'
    this.pingedAt = undefined
    this.progress = undefined
    this.underWay.length = 0
    this.sentTo = this.book.pen.settled
  }
}
