// The conversation with the shed (PROTOCOL.md, section 5) as a pure machine: events go in, effects
// come out. It holds no socket, no timer and no database; time is told with each event.

import type { Write } from '../db/records'
import { Unpacker } from '../log/batch_unpack'
import { ShapeError } from '../log/canonical'
import { planBackedUp } from './backed_up'
import type { Book } from './book'
import type { Effect, Identity, Link, Moment, SessionEvent } from './events'
import { Filling, mayLack } from './filling'
import { planFraming } from './framing'
import { Gains } from './gains'
import { Heartbeat } from './heartbeat'
import { cursorOf, planForgetCursor, planLevel, planNews, planRereading } from './history'
import { helloText, pingText, protocolVersion, readMessage } from './messages'
import type { Ack, Backup, FromShed, News, Outcome, Refuse, Welcome } from './messages'
import { Outbox } from './outbox'
import { lastUnmoved } from './pushing'
import { Progress } from './progress'
import { inReach } from './reach'
import { planFormerAgain, planReincarnation } from './reincarnation'
import { Retry } from './retry'
import { Ripening } from './ripening'
import { confirmedBy, judgedAnew, knownTo, pastIsProven, planAck, planWelcome, toldUpTo } from './settling'

/** Refusals that need something to change before trying again can help. */
const fatal = new Set(['version', 'farm', 'malformed', 'reused', 'split', 'too_large', 'join', 'withdrawn'])
/** Refusals of what an earlier incarnation wrote; the present one must not wait for that. */
const aboutThePast = new Set(['malformed', 'split', 'too_large'])

export class Session {
  link: Link = 'offline'
  refusal: string | undefined
  clockOffset: number | undefined
  readonly progress = new Progress()
  private readonly retry = new Retry()
  private readonly gains = new Gains(this.retry, this.progress)
  private readonly pulse = new Heartbeat()
  private readonly ripening = new Ripening()
  private unprovenBefore = false
  private reusedBefore = false
  /** Of the log of the shed that welcomed. */
  private life = ''
  private epoch = ''
  /** Of the line that stands: names do not outlive it. */
  private unpacker = new Unpacker()
  private outbox: Outbox
  /** Up to where it is known on this line what became of the changes. */
  private told = 0
  private filling: Filling | undefined
  /** Earlier incarnations that a shed would not take. */
  private readonly givenUp = new Set<string>()

  constructor(
    private readonly book: Book,
    private readonly identity: Identity,
  ) {
    this.outbox = new Outbox(book, book.pen.incarnation, book.pen.settled)
  }

  /** Highest seq of the present incarnation that was sent on this line, or is settled. */
  get sentTo(): number {
    const { incarnation, settled } = this.book.pen
    return this.outbox.incarnation === incarnation ? Math.max(settled, this.outbox.sentTo) : settled
  }

  handle(event: SessionEvent, at: Moment): Effect[] {
    const effects = this.turn(event, at)
    this.progress.look(this.book.pen)
    return effects
  }

  private turn(event: SessionEvent, at: Moment): Effect[] {
    switch (event.kind) {
      case 'opened':
        return this.greet(at)
      case 'closed':
        return this.drop(() => this.retry.soon(at.now))
      case 'store_failed':
        return this.notStored(() => this.retry.soon(at.now))
      case 'failed':
        return this.notStored(() => this.retry.afterFailure(at.now))
      case 'message':
        return this.hear(event.data, at)
      case 'recorded':
        this.ripening.tapped(at.now)
        return this.goOn(at)
      case 'wake':
        return this.wake(event.insist ?? false, at)
      case 'person':
        return this.reconnect(at)
      case 'stored':
        this.gains.stored(this.book.pen)
        this.lookIfLevel()
        return this.goOn(at)
      case 'tick':
        return this.goOn(at)
    }
  }

  /** When the machine wants its next 'tick', by the clock of Moment.now; undefined for never. */
  nextTick(): number | undefined {
    if (this.down()) return this.retry.at
    const frame = this.book.drafts.size > 0 && this.open() ? this.frameAt() : Infinity
    return Math.min(this.pulse.nextAt(this.open()), frame)
  }

  private open(): boolean {
    return inReach(this)
  }

  private down(): boolean {
    return this.link === 'offline' || this.link === 'refused'
  }

  /** Does whatever is due now. */
  private goOn(at: Moment): Effect[] {
    if (this.down()) return this.retry.at !== undefined && at.now >= this.retry.at ? this.connect(at) : []
    if (this.pulse.isDead(at.now, this.open())) return this.drop(() => this.retry.soon(at.now))
    if (!this.open()) return []
    return this.pulse.due(at.now) ? [this.ping(at), ...this.send(at)] : this.send(at)
  }

  private ping(at: Moment): Effect {
    this.pulse.ask(at.now)
    return { kind: 'send', data: pingText }
  }

  /** Pushes what is framed, and frames what is ripe. */
  private send(at: Moment): Effect[] {
    const last = this.former === undefined ? Infinity : lastUnmoved(this.book.own, this.former)
    const effects: Effect[] = []
    for (let data = this.outbox.next(last); data; data = this.outbox.next(last)) effects.push({ kind: 'send', data })
    if (this.book.drafts.size === 0 || at.now < this.frameAt()) return effects
    this.ripening.framed()
    return [...effects, { kind: 'store', writes: planFraming(this.book) }]
  }

  private frameAt(): number {
    return this.outbox.isFull || this.former !== undefined ? Infinity : this.ripening.at
  }

  /** The earlier incarnation that is being filled in, if one is. */
  private get former(): string | undefined {
    return this.filling?.former
  }

  private connect(at: Moment): Effect[] {
    this.link = 'connecting'
    this.refusal = undefined
    this.retry.begun(at.now)
    this.pulse.heard(at.now)
    const { incarnation, settled } = this.book.pen
    this.unpacker = new Unpacker()
    this.outbox = new Outbox(this.book, this.former ?? incarnation, settled)
    return [{ kind: 'connect' }]
  }

  private greet(at: Moment): Effect[] {
    this.pulse.heard(at.now)
    const { book, former } = this
    const { pen } = book
    const incarnation = former ?? pen.incarnation
    const cursor = cursorOf(book.reading)
    // What the shed judged of an earlier incarnation may have been lost on the way, and one that is read
    // anew may have judged otherwise: then all of it is asked for.
    this.told = former === undefined && cursor ? toldUpTo(book, incarnation, pen.settled) : 0
    const data = helloText({
      farm: book.farm, person: this.identity.person(), device: this.identity.device, incarnation, settled: this.told,
      unsent: former === undefined ? pen.seq - pen.settled + book.drafted : 0,
      news: former === undefined, cursor: former === undefined ? cursor : null, own: pen.own ?? '',
    })
    return [{ kind: 'send', data }]
  }

  private hear(data: string | Uint8Array, at: Moment): Effect[] {
    this.pulse.heard(at.now)
    this.progress.heard(at.wall)
    try {
      const message = readMessage(data, this.unpacker)
      return message ? this.answer(message, at) : this.goOn(at)
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
        return this.hearNews(message, at)
      case 'pong':
        this.clockOffset = message.clock - at.wall
        this.lookIfLevel()
        return this.goOn(at)
      case 'backup':
        return this.hearBackup(message, at)
    }
  }

  private welcomed(welcome: Welcome, at: Moment): Effect[] {
    if (this.link !== 'connecting') throw new ShapeError('a second welcome')
    if (welcome.version !== protocolVersion) return this.refuse('version', at)
    if (welcome.farm !== this.book.farm) return this.refuse('farm', at)
    this.clockOffset = welcome.clock - at.wall
    if (this.former !== undefined) return this.welcomedAs(this.former, welcome, at)
    if (!pastIsProven(this.book, this.book.pen.incarnation, welcome)) return this.reincarnate(welcome, at)
    this.unprovenBefore = false
    this.filling = mayLack(this.book, welcome) ? new Filling(this.book, welcome, this.givenUp) : undefined
    if (this.former !== undefined) return this.reconnect(at)
    if (cursorOf(this.book.reading) && (!welcome.resume || welcome.seq < this.book.pen.settled)) return this.readAnew(at)
    ;[this.life, this.epoch] = [welcome.life, welcome.epoch]
    this.progress.begin(welcome.arrival)
    const known = knownTo(welcome, this.told)
    this.outbox.resume(welcome, known)
    this.gains.welcome(confirmedBy(welcome, this.book.own, this.book.pen.incarnation, this.book.pen.settled, known))
    const writes = planWelcome(this.book, this.told, welcome, this.givenUp.size === 0, at.wall)
    const backup = planBackedUp(this.book, this.epoch, welcome.backedUp, at.wall)
    return [{ kind: 'store', writes: [...writes, ...backup, ...this.planReading(welcome, at)] }]
  }

  /** What was confirmed may not be what this shed has, own changes too: all of it is asked for. */
  private readAnew(at: Moment): Effect[] {
    return [...this.reconnect(at), { kind: 'store', writes: planForgetCursor(this.book) }]
  }

  private reincarnate(welcome: Welcome, at: Moment): Effect[] {
    return this.sayAgain(planReincarnation(this.book, this.identity.newIncarnation(), welcome), at)
  }

  private sayAgain(writes: readonly Write[], at: Moment): Effect[] {
    // A shed that follows no past at all must not be asked again and again.
    const line = this.unprovenBefore ? this.drop(() => this.retry.soon(at.now)) : this.reconnect(at)
    this.unprovenBefore = true
    this.reusedBefore = false
    return [...line, { kind: 'store', writes }]
  }

  /** A conversation that only fills in what an earlier incarnation wrote. */
  private welcomedAs(former: string, welcome: Welcome, at: Moment): Effect[] {
    if (welcome.epoch !== this.filling?.epoch) {
      this.filling = undefined // restored once more: the present incarnation finds out anew what is missing
      return this.reconnect(at)
    }
    // Somebody else's past under that identity cannot be filled, but may lack what this phone wrote.
    if (!pastIsProven(this.book, former, welcome)) {
      return this.sayAgain(planFormerAgain(this.book, former, this.identity.newIncarnation()), at)
    }
    this.unprovenBefore = false
    this.link = 'catching_up'
    const known = knownTo(welcome, this.told)
    this.outbox.resume(welcome, known)
    return this.filled(former, known, welcome, at)
  }

  /** Stores what became of changes of an earlier incarnation, and goes on to the next after the last. */
  private filled(former: string, seq: number, outcome: Outcome, at: Moment): Effect[] {
    const writes = judgedAnew(this.book, former, this.told, seq, outcome)
    this.told = Math.max(this.told, seq)
    if (seq < lastUnmoved(this.book.own, former)) return [{ kind: 'store', writes }]
    this.filling!.next()
    return this.nextFilling(writes, at)
  }

  private nextFilling(writes: readonly Write[], at: Moment): Effect[] {
    const filling = this.filling!
    const done = filling.former === undefined ? filling.planDone() : []
    return [...this.reconnect(at), { kind: 'store', writes: [...writes, ...done] }]
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

  private lookIfLevel(): void {
    if (this.link === 'live') this.progress.lookIfLevel(this.book.reading)
  }

  private reach(arrival: number): void {
    this.link = this.progress.reach(arrival) ? 'live' : 'catching_up'
  }

  private acked(ack: Ack, at: Moment): Effect[] {
    if (!this.open() || !this.outbox.acknowledged(ack)) throw new ShapeError('an acknowledgement of what was not sent')
    const { former } = this
    const before = former === undefined ? this.book.pen.settled : this.told
    this.gains.ack(ack, before, former === undefined ? confirmedBy(ack, this.book.own, this.book.pen.incarnation, before, ack.seq) : 0)
    if (ack.seq > before) this.reusedBefore = false
    if (former !== undefined) return this.filled(former, ack.seq, ack, at)
    return [{ kind: 'store', writes: planAck(this.book, ack, this.life, at.wall) }]
  }

  private hearNews(news: News, at: Moment): Effect[] {
    if (!this.open() || this.former !== undefined) throw new ShapeError('news before a welcome, or not asked for')
    const writes = planNews(this.book, news, this.progress.target, at.wall)
    this.gains.news(news.arrival, cursorOf(this.book.reading)!.arrival)
    this.progress.told(news.newest)
    this.reach(news.arrival)
    return [{ kind: 'store', writes }]
  }

  private hearBackup({ arrival }: Backup, at: Moment): Effect[] {
    if (!this.open()) throw new ShapeError('a backup before a welcome')
    // A conversation about the past may be with a shed that was restored meanwhile; the next one tells.
    const writes = this.former === undefined ? planBackedUp(this.book, this.epoch, arrival, at.wall) : []
    return writes.length > 0 ? [{ kind: 'store', writes }] : this.goOn(at)
  }

  private refused({ code }: Refuse, at: Moment): Effect[] {
    // The next welcome tells a copy of a phone that its past is another's, and it goes on.
    if (code === 'reused' && !this.reusedBefore) {
      this.reusedBefore = true
      return this.reconnect(at)
    }
    if (this.former !== undefined && aboutThePast.has(code)) {
      this.filling!.giveUp()
      return this.nextFilling([], at)
    }
    // Another copy fills in the same past at this moment: that is settled soon.
    const passes = !fatal.has(code) || (this.former !== undefined && code === 'reused')
    return passes ? this.drop(() => this.retry.afterRefusal(at.now)) : this.refuse(code, at)
  }

  /** Says so, and tries again after a long while or when a person asks. */
  private refuse(code: string, at: Moment): Effect[] {
    this.forgetLine()
    this.link = 'refused'
    this.refusal = code
    this.retry.muchLater(at.now)
    return [{ kind: 'close' }]
  }

  /** The line is gone, if there was one: says when to try again. */
  private drop(again: () => void): Effect[] {
    if (this.down()) return []
    this.forgetLine()
    again()
    return [{ kind: 'close' }]
  }

  /** Also where the line was closed before: it is not tried again at once. */
  private notStored(again: () => void): Effect[] {
    this.gains.notStored()
    this.filling = undefined // what it takes for filled may not be noted: what is missing is found out anew
    const effects = this.drop(() => {})
    again()
    return effects
  }

  private reconnect(at: Moment): Effect[] {
    return this.drop(() => this.retry.atOnce(at.now))
  }

  private wake(insist: boolean, at: Moment): Effect[] {
    if (this.link === 'offline' || (this.link === 'refused' && insist)) return this.connect(at)
    if (!this.open() || this.pulse.asked) return this.goOn(at)
    // A line that slept may be dead without anybody having said so.
    return [this.ping(at), ...this.goOn(at)]
  }

  private forgetLine(): void {
    this.link = 'offline'
    this.progress.reading = undefined
    this.outbox = new Outbox(this.book, this.book.pen.incarnation, this.book.pen.settled)
  }
}
