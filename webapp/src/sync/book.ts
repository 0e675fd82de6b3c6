// The phone's records in memory, exactly as they lie on disk: every batch of writes is applied here
// once it is stored. Pure; the plan* functions beside it say which writes an event calls for.

import type {
  Contents, DraftOperation, HistoryChunk, OwnOperation, Pen, Reading, Write,
} from '../db/records'
import { changeOf } from '../log/canonical'
import type { Change } from '../log/change'
import { noStamp } from '../log/clock'
import { formerOf } from '../log/identity'
import type { Entity } from '../log/state'
import { entityName, State } from '../log/state'
import type { Laid } from './overlay'
import { Overlay } from './overlay'
import type { Framed } from './own_log'
import { OwnLog } from './own_log'

/** The names of the entities that a batch changed, or all of them. */
export type Touched = ReadonlySet<string> | 'all'

export class Book {
  pen: Pen
  reading: Reading
  readonly drafts = new Map<number, DraftOperation>()
  readonly own: OwnLog
  readonly kept: Map<string, unknown>
  /** The last chunk of each generation, which small news is added to. */
  readonly tails = new Map<number, HistoryChunk>()
  private confirmed = new State()
  private staged = new State()
  private readonly overlay = new Overlay()
  private readonly shown = new Map<string, Entity | undefined>()
  /** Operations that say again what was said under a former identity. */
  private readonly saidAgain = new Map<string, OwnOperation>()

  constructor(
    readonly farm: string,
    contents: Contents,
    incarnation: string,
  ) {
    this.pen = contents.pen ?? newPen(incarnation)
    this.reading = contents.reading ?? { generation: 1, cursor: null, staging: null, levelAt: 0 }
    this.own = new OwnLog(farm)
    this.kept = new Map(contents.kept)
    for (const chunk of contents.chunks) this.takeChunk(chunk, 0)
    for (const operation of contents.own) this.own.put(operation)
    for (const framed of this.own) this.layFramed(framed)
    for (const draft of contents.drafts) this.takeDraft(draft)
  }

  /** Takes in what was stored. */
  apply(writes: readonly Write[]): Touched {
    let touched: Touched = new Set<string>()
    for (const write of writes) touched = union(touched, this.take(write))
    if (touched === 'all') this.shown.clear()
    else for (const name of touched) this.shown.delete(name)
    return touched
  }

  private take(write: Write): Touched {
    switch (write.kind) {
      case 'pen':
        this.pen = write.pen
        return none
      case 'reading':
        return this.takeReading(write.reading)
      case 'draft':
        return this.takeDraft(write.draft)
      case 'drop_draft':
        this.drafts.delete(write.draft)
        return this.overlay.lay(draftSource(write.draft), [])
      case 'own':
        return this.takeOwn(write.operation)
      case 'chunk':
        return this.takeChunk(write.chunk, write.known)
      case 'forget':
        this.tails.delete(write.generation)
        return none
      case 'kept':
        this.kept.set(write.name, write.value)
        return none
    }
  }

  private takeReading(reading: Reading): Touched {
    const before = this.reading
    this.reading = reading
    if (reading.generation !== before.generation) {
      this.confirmed = this.staged
      this.staged = new State()
      for (const framed of this.own) this.layFramed(framed)
      return 'all'
    }
    if (reading.staging?.generation !== before.staging?.generation) this.staged = new State()
    return none
  }

  private takeChunk(chunk: HistoryChunk, known: number): Touched {
    const shown = chunk.generation === this.reading.generation
    const state = shown ? this.confirmed : this.staged
    const touched = new Set<string>()
    const changes = JSON.parse(chunk.changes) as unknown[]
    for (let i = known; i < changes.length; i++) {
      const change = changeOf(changes[i])
      state.merge(change, { l: chunk.orders[2 * i]!, c: chunk.orders[2 * i + 1]! })
      touched.add(entityName(change.type, change.id))
    }
    const tail = this.tails.get(chunk.generation)
    if (!tail || tail.number <= chunk.number) this.tails.set(chunk.generation, chunk)
    return shown ? touched : none
  }

  private takeDraft(draft: DraftOperation): Touched {
    this.drafts.set(draft.id, draft)
    const { incarnation } = this.pen
    return this.overlay.lay(draftSource(draft.id), draft.facts.map(({ fact, person }) => ({
      change: { ...fact, incarnation, person, seq: 0, stamp: draft.stamp, rest: 0 },
      order: draft.stamp,
    })))
  }

  private takeOwn(operation: OwnOperation): Touched {
    const touched = new Set(this.layFramed(this.own.put(operation)))
    if (!operation.moved) return touched
    // What is now known of a former change decides whether the one that says it again counts.
    for (const again of this.saidAgain.values()) {
      for (const name of this.layFramed(this.own.put(again))) touched.add(name)
    }
    return touched
  }

  /** Confirms what the shed has ordered and lays the rest over. Returns the entities touched. */
  private layFramed({ operation, changes }: Framed): Set<string> {
    const source = `${operation.incarnation}:${operation.first}`
    const refused = new Set(operation.refused.map(r => r.seq))
    const laid: Laid[] = []
    const confirmed: string[] = []
    changes.forEach((change, i) => {
      if (refused.has(change.seq)) return
      const order = operation.orders[i] ?? undefined
      const again = this.own.saysAgain(change)
      if (again) this.saidAgain.set(source, operation)
      if (order && !again) {
        this.confirmed.merge(change, order)
        confirmed.push(entityName(change.type, change.id))
      } else if (this.stillCounts(operation, change, again)) {
        laid.push({ change, order: order ?? change.stamp })
      }
    })
    const touched = this.overlay.lay(source, laid)
    for (const name of confirmed) touched.add(name)
    return touched
  }

  /**
   * A change that was sent again counts under its new identity, unless the shed turns out to hold
   * the former one, which it then settles without keeping it twice.
   */
  private stillCounts(operation: OwnOperation, change: Change, again: boolean): boolean {
    if (operation.moved) return false
    return !again || this.own.orderOf(formerOf(change)) === undefined
  }

  /** An entity with everything recorded here, sent or not. */
  entity(type: string, id: string): Entity | undefined {
    return this.named(entityName(type, id))
  }

  named(name: string): Entity | undefined {
    if (this.shown.has(name)) return this.shown.get(name)
    const entity = this.overlay.over(this.confirmed, name)
    if (entity !== this.confirmed.named(name)) this.shown.set(name, entity)
    return entity
  }

  *entities(): IterableIterator<Entity> {
    const names = new Set([...this.confirmed.names(), ...this.overlay.names()])
    for (const name of names) yield this.named(name)!
  }

  /** Every refused change, of every incarnation; one that was sent again counts as its later self. */
  refused(): { readonly change: Change; readonly code: string }[] {
    return [...this.own].filter(({ operation }) => !operation.moved).flatMap(({ operation, changes }) =>
      operation.refused.map(({ seq, code }) => ({ change: changes[seq - operation.first]!, code })))
  }
}

const none: Touched = new Set<string>()

function newPen(incarnation: string): Pen {
  return { incarnation, formers: [], seq: 0, settled: 0, clock: noStamp, draft: 0 }
}

function draftSource(id: number): string {
  return `draft ${id}`
}

function union(a: Touched, b: Touched): Touched {
  if (a === 'all' || b === 'all') return 'all'
  if (a.size === 0 || b.size === 0) return a.size === 0 ? b : a
  return new Set([...a, ...b])
}

