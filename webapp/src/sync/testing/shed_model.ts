// A small shed for tests of the session: it follows PROTOCOL.md from memory, with frames so small
// that every catch-up has several.

import { canonical, changeOf } from '../../log/canonical'
import { chainAfter, chainStart } from '../../log/chain'
import type { Change, Stamp } from '../../log/change'
import { noStamp, orderFor } from '../../log/clock'
import { factsOf, firstIdentity, formerOf, identityOf } from '../../log/identity'
import { compareStamps } from '../../log/order'
import { State } from '../../log/state'

interface Kept {
  readonly change: Change
  readonly order: Stamp
}

/** What a shed knows of one incarnation, by seq - 1. */
interface Past {
  texts: string[]
  orders: (Stamp | undefined)[]
}

interface Refusal {
  seq: number
  code: string
  text: string
}

const newsFrame = 3

export class ShedModel {
  readonly kept: Kept[] = []
  readonly lines = new Set<ShedLine>()
  busy = false
  /** Makes the shed refuse a change of its liking. */
  refuses: (change: Change) => string | undefined = () => undefined
  private readonly pasts = new Map<string, Past>()
  private readonly refusals = new Map<string, Refusal[]>()
  private highest = noStamp

  constructor(
    readonly farm: string,
    public epoch: string,
    public wall: number,
  ) {}

  state(): State {
    const state = new State()
    for (const { change, order } of this.kept) state.merge(change, order)
    return state
  }

  /** Goes back to a backup that held the first changes only, as a new database. */
  restore(arrival: number, epoch: string): void {
    const kept = this.kept.splice(0)
    this.pasts.clear()
    this.refusals.clear()
    this.highest = noStamp
    this.epoch = epoch
    for (const { change, order } of kept.slice(0, arrival)) this.append(change, order)
    for (const line of [...this.lines]) line.cut()
  }

  pastOf(incarnation: string): Past {
    let past = this.pasts.get(incarnation)
    if (!past) this.pasts.set(incarnation, (past = { texts: [], orders: [] }))
    return past
  }

  refusalsOf(incarnation: string): Refusal[] {
    return this.refusals.get(incarnation) ?? []
  }

  hashOf(incarnation: string): string {
    return chainAfter(chainStart(this.farm, incarnation), this.pastOf(incarnation).texts)
  }

  /** Takes an operation in. Returns the orders of what was kept or held. */
  operation(changes: readonly Change[], known: ReadonlyMap<number, Stamp>): [number, number, number][] {
    const first = changes.map(this.refuses)
    const together = first.some(code => code !== undefined)
    return changes.flatMap((change, i) => {
      const order = together ? undefined : this.append(change, known.get(change.seq))
      if (together) this.refuse(change, first[i] ?? 'operation')
      return order ? [[change.seq, order.l, order.c] as [number, number, number]] : []
    })
  }

  private refuse(change: Change, code: string): void {
    const past = this.pastOf(change.incarnation)
    past.texts.push(canonical(change))
    past.orders.push(undefined)
    const list = this.refusals.get(change.incarnation) ?? []
    list.push({ seq: change.seq, code, text: '' })
    this.refusals.set(change.incarnation, list)
  }

  private append(change: Change, known: Stamp | undefined): Stamp {
    const past = this.pastOf(change.incarnation)
    past.texts.push(canonical(change))
    const held = this.heldFormer(change)
    const order = held ?? known ?? orderFor(change.stamp, this.wall, this.highest)
    past.orders.push(order)
    if (compareStamps(order, this.highest) > 0) this.highest = order
    if (!held) this.kept.push({ change, order })
    return order
  }

  /** The order of the kept change that was first framed as the same and says the same. */
  private heldFormer(change: Change): Stamp | undefined {
    if (!formerOf(change)) return undefined
    const first = firstIdentity(change)
    return this.kept.find(k => firstIdentity(k.change) === first && factsOf(k.change) === factsOf(change))?.order
  }
}

/** One connection. What it says is collected in `said` until the wire takes it. */
export class ShedLine {
  readonly said: string[] = []
  private incarnation = ''
  private told = 0
  private greeted = false
  private open = true

  constructor(
    private readonly shed: ShedModel,
    private readonly onCut: () => void,
  ) {
    shed.lines.add(this)
  }

  cut(): void {
    this.open = false
    this.shed.lines.delete(this)
    this.onCut()
  }

  hear(text: string): void {
    if (!this.open) return
    const message = JSON.parse(text) as Record<string, unknown>
    if (message['t'] === 'hello') this.welcome(message)
    if (message['t'] === 'ping') this.say({ t: 'pong', clock: this.shed.wall })
    if (message['t'] === 'push') this.push(message)
  }

  private say(message: unknown): void {
    this.said.push(JSON.stringify(message))
  }

  private refuse(code: string): void {
    this.say({ t: 'refuse', code, text: code })
    this.shed.lines.delete(this)
    this.open = false
  }

  private welcome(hello: Record<string, unknown>): void {
    const { shed } = this
    if (shed.busy) return this.refuse('busy')
    if (hello['farm'] !== shed.farm) return this.refuse('farm')
    this.incarnation = hello['incarnation'] as string
    const cursor = hello['cursor'] as { epoch: string; arrival: number; last: string } | null
    const resume = cursor !== null && cursor.epoch === shed.epoch && this.lastAt(cursor.arrival) === cursor.last
    this.told = resume ? cursor.arrival : 0
    this.say({
      t: 'welcome', version: 1, farm: shed.farm, epoch: shed.epoch, scopes: ['field', 'shed'], resume,
      seq: shed.pastOf(this.incarnation).texts.length, hash: shed.hashOf(this.incarnation),
      clock: shed.wall, arrival: shed.kept.length, refused: shed.refusalsOf(this.incarnation),
    })
    this.greeted = true
    this.tellNews(true)
  }

  private lastAt(arrival: number): string {
    const change = this.shed.kept[arrival - 1]?.change
    return change ? identityOf(change.incarnation, change.seq) : arrival === 0 ? '' : 'nothing'
  }

  /** What this line has not been told, in order; its own changes only while it catches up. */
  tellNews(own = false): void {
    const { kept } = this.shed
    if (!this.greeted) return
    while (this.told < kept.length) {
      const frame = kept.slice(this.told, this.told + newsFrame)
      const shown = frame.filter(({ change }) => own || change.incarnation !== this.incarnation)
      this.told += frame.length
      this.say({
        t: 'news', changes: shown.map(({ change }) => JSON.parse(canonical(change)) as unknown),
        orders: shown.map(({ order }) => [order.l, order.c]),
        arrival: this.told, last: this.lastAt(this.told), newest: kept.length,
      })
    }
  }

  private push(message: Record<string, unknown>): void {
    const changes = (message['changes'] as unknown[]).map(changeOf)
    const known = new Map((message['orders'] as [number, number, number][] | undefined)?.map(([s, l, c]) => [s, { l, c }]))
    const past = this.shed.pastOf(this.incarnation)
    if (changes.at(-1)!.rest !== 0) return this.refuse('split')
    if (changes[0]!.seq > past.texts.length + 1) return this.refuse('gap')
    const fresh = changes.filter(c => c.seq > past.texts.length)
    const reused = changes.some(c => c.seq <= past.texts.length && past.texts[c.seq - 1] !== canonical(c))
    if (reused) return this.refuse('reused')
    const orders = operations(fresh).flatMap(operation => this.shed.operation(operation, known))
    const refused = this.shed.refusalsOf(this.incarnation).filter(r => r.seq >= changes[0]!.seq)
    this.say({ t: 'ack', seq: past.texts.length, orders, refused })
    for (const line of this.shed.lines) line.tellNews()
  }
}

function operations(changes: readonly Change[]): Change[][] {
  const found: Change[][] = []
  let operation: Change[] = []
  for (const change of changes) {
    operation.push(change)
    if (change.rest > 0) continue
    found.push(operation)
    operation = []
  }
  return found
}
