// The phone's records in memory, exactly as they lie on disk: every batch of writes is applied here
// once it is stored. Pure; the plan* functions beside it say which writes an event calls for.

import type { Contents, DraftOperation, HistoryChunk, Pen, Reading, Write } from '../db/records'
import type { Batch } from '../log/batch'
import { Unpacker } from '../log/batch_unpack'
import { ShapeError } from '../log/canonical'
import type { Change } from '../log/change'
import { noStamp } from '../log/clock'
import type { Entity } from '../log/state'
import { entityName, State } from '../log/state'
import type { Laid } from './overlay'
import { Overlay } from './overlay'
import type { Framed } from './own_log'
import { OwnLog } from './own_log'

/** What a batch of writes changed of what is shown, and of what is being made ready to be shown. */
export interface Touched {
  /** Names of the entities shown that may have changed. */
  readonly names: ReadonlySet<string>
  /** Of the entities of a reading anew; of those just shown, where it has `switched`. */
  readonly staged: ReadonlySet<string>
  /** The reading anew is complete and is now what is shown, with `names` laid over it. */
  readonly switched: boolean
  /** A reading anew has begun from nothing. */
  readonly begun: boolean
}

export class Book {
  pen: Pen
  reading: Reading
  readonly drafts = new Map<number, DraftOperation>()
  readonly own: OwnLog
  readonly kept: Map<string, unknown>
  /** The last chunk of each generation that lies on disk, which small news is added to. */
  readonly tails = new Map<number, HistoryChunk>()
  private confirmed = new State()
  /** A reading anew, which takes the confirmed one's place when it is complete. */
  private staged = new State()
  private readonly overlay = new Overlay()
  private readonly shown = new Map<string, Entity | undefined>()

  constructor(
    readonly farm: string,
    contents: Contents,
    incarnation: string,
  ) {
    this.pen = contents.pen ?? newPen(incarnation)
    this.reading = contents.reading ?? { generation: 1, cursor: null, staging: null, levelAt: 0 }
    this.own = new OwnLog(farm)
    this.kept = new Map(contents.kept)
    try {
      this.readHistory(contents.chunks)
    } catch (cause) {
      if (!(cause instanceof ShapeError)) throw cause
      console.error('reading the stored history: the rest of it is read anew from the shed', cause)
      this.reading = { ...this.reading, cursor: null, staging: null }
    }
    for (const operation of contents.own) this.layFramed(this.own.put(operation))
    for (const draft of contents.drafts) this.takeDraft(draft)
  }

  private readHistory(chunks: readonly HistoryChunk[]): void {
    for (const chunk of chunks) this.tails.set(chunk.generation, chunk) // also of those that cannot be read
    let generation = 0
    let unpacker = new Unpacker()
    for (const chunk of chunks) {
      if (chunk.generation !== generation) unpacker = new Unpacker()
      generation = chunk.generation
      this.takeChunk(chunk, chunk.batches.map(batch => unpacker.read(batch)))
    }
  }

  /** Takes in what was stored. */
  apply(writes: readonly Write[]): Touched {
    const names = new Set<string>()
    const staged = new Set<string>()
    let [switched, begun] = [false, false]
    for (const write of writes) {
      if (write.kind === 'reading') {
        const before = this.reading
        for (const name of this.takeReading(write.reading)) names.add(name)
        switched ||= write.reading.generation !== before.generation
        begun ||= write.reading.staging !== null && write.reading.staging.generation !== before.staging?.generation
      } else if (write.kind === 'chunk' && write.chunk.generation !== this.reading.generation) {
        for (const name of this.takeChunk(write.chunk, write.fresh)) staged.add(name)
      } else {
        for (const name of this.take(write)) names.add(name)
      }
    }
    for (const name of names) this.shown.delete(name)
    return { names, staged, switched, begun }
  }

  /** The names of the entities shown that it changes are returned. */
  private take(write: Exclude<Write, { kind: 'reading' }>): ReadonlySet<string> {
    switch (write.kind) {
      case 'pen':
        this.pen = write.pen
        return none
      case 'draft':
        return this.takeDraft(write.draft)
      case 'drop_draft':
        this.drafts.delete(write.draft)
        return this.overlay.lay(draftSource(write.draft), [])
      case 'own':
        return this.layFramed(this.own.put(write.operation))
      case 'chunk':
        return this.takeChunk(write.chunk, write.fresh)
      case 'forget':
        this.tails.delete(write.generation)
        return none
      case 'kept':
        this.kept.set(write.name, write.value)
        return none
    }
  }

  private takeReading(reading: Reading): ReadonlySet<string> {
    const before = this.reading
    this.reading = reading
    if (reading.generation === before.generation) {
      if (reading.staging?.generation !== before.staging?.generation) this.staged = new State()
      return none
    }
    this.confirmed = this.staged
    this.staged = new State()
    this.shown.clear()
    const touched = new Set(this.overlay.names())
    for (const framed of this.own) for (const name of this.layFramed(framed)) touched.add(name)
    return touched
  }

  private takeChunk(chunk: HistoryChunk, fresh: readonly Batch[]): ReadonlySet<string> {
    const state = chunk.generation === this.reading.generation ? this.confirmed : this.staged
    const touched = new Set<string>()
    for (const { changes, orders } of fresh) {
      changes.forEach((change, i) => {
        state.merge(change, orders?.[i] ?? change.stamp)
        touched.add(entityName(change.type, change.id))
      })
    }
    const tail = this.tails.get(chunk.generation)
    if (!tail || tail.number <= chunk.number) this.tails.set(chunk.generation, chunk)
    return touched
  }

  private takeDraft(draft: DraftOperation): ReadonlySet<string> {
    this.drafts.set(draft.id, draft)
    const { incarnation } = this.pen
    return this.overlay.lay(draftSource(draft.id), draft.facts.map(({ fact, person }) => ({
      change: { ...fact, incarnation, person, seq: 0, stamp: draft.stamp, rest: 0 },
      order: draft.stamp,
    })))
  }

  /** Confirms what the shed keeps and lays the rest over, but for what counts nowhere. */
  private layFramed(framed: Framed): ReadonlySet<string> {
    const { operation, changes } = framed
    const notKept = new Set([...operation.refused.map(r => r.seq), ...(operation.held ?? [])])
    const laid: Laid[] = []
    const confirmed: string[] = []
    changes.forEach((change, i) => {
      if (operation.moved || notKept.has(change.seq)) return
      const order = operation.orders[i] ?? undefined
      if (!order || !this.isSettled(change)) {
        laid.push({ change, order: order ?? change.stamp })
        return
      }
      if (!this.mayRead(change)) return
      this.confirmed.merge(change, order)
      confirmed.push(entityName(change.type, change.id))
    })
    const touched = this.overlay.lay(`${operation.incarnation}:${operation.first}`, laid)
    for (const name of confirmed) touched.add(name)
    return touched
  }

  /** What a person wrote in a scope that was taken away since shows here no more than elsewhere. */
  private mayRead({ scope }: Change): boolean {
    return this.reading.cursor?.scopes.includes(scope) ?? true
  }

  /** A restored shed judges again what it does not hold. */
  private isSettled({ incarnation, seq }: Change): boolean {
    return incarnation !== this.pen.incarnation || seq <= this.pen.settled
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

  /** An entity of the reading anew. */
  stagedNamed(name: string): Entity | undefined {
    return this.staged.named(name)
  }

  stagedNames(): IterableIterator<string> {
    return this.staged.names()
  }

  /** Facts recorded and not framed yet. */
  get drafted(): number {
    return [...this.drafts.values()].reduce((n, { facts }) => n + facts.length, 0)
  }

  /** The names of all entities shown. */
  names(): Set<string> {
    return new Set([...this.confirmed.names(), ...this.overlay.names()])
  }

  *entities(): IterableIterator<Entity> {
    for (const name of this.names()) yield this.named(name)!
  }

  /** Every refused change, of every incarnation; one that was sent again counts as its later self. */
  refused(): { readonly change: Change; readonly code: string }[] {
    return [...this.own.refused()].flatMap(({ operation, changes }) =>
      operation.refused.map(({ seq, code }) => ({ change: changes[seq - operation.first]!, code })))
  }
}

const none: ReadonlySet<string> = new Set<string>()

function newPen(incarnation: string): Pen {
  return { incarnation, formers: [], seq: 0, settled: 0, clock: noStamp, draft: 0 }
}

function draftSource(id: number): string {
  return `draft ${id}`
}
