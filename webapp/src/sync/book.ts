// The phone's records in memory, exactly as they lie on disk: every batch of writes is applied here
// once it is stored. Pure; the plan* functions beside it say which writes an event calls for.

import type {
  Contents, DraftOperation, HistoryChunk, OwnOperation, Pen, Reading, Write,
} from '../db/records'
import { changeOf } from '../log/canonical'
import type { Change } from '../log/change'
import { noStamp } from '../log/clock'
import { firstIdentity, formerOf } from '../log/identity'
import type { Entity } from '../log/state'
import { entityName } from '../log/state'
import type { Laid } from './overlay'
import { Overlay } from './overlay'
import type { Framed } from './own_log'
import { OwnLog } from './own_log'
import { Told } from './told'

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
  private confirmed = new Told()
  /** A reading anew, which takes the confirmed one's place when it is complete. */
  private staged = new Told()
  private readonly overlay = new Overlay()
  private readonly shown = new Map<string, Entity | undefined>()
  /** Operations of this phone that hold a change with a former identity, by that identity. */
  private readonly saidAgain = new Map<string, Set<Framed>>()

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
    for (const operation of contents.own) this.layFramed(this.own.put(operation))
    for (const draft of contents.drafts) this.takeDraft(draft)
  }

  /** Takes in what was stored. */
  apply(writes: readonly Write[]): Touched {
    const touched = new Set<string>()
    let all = false
    for (const write of writes) {
      const names = this.take(write)
      if (names === 'all') all = true
      else for (const name of names) touched.add(name)
    }
    if (all) this.shown.clear()
    else for (const name of touched) this.shown.delete(name)
    return all ? 'all' : touched
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
      this.staged = new Told()
      for (const framed of this.own) this.layFramed(framed)
      return 'all'
    }
    if (reading.staging?.generation !== before.staging?.generation) this.staged = new Told()
    return none
  }

  private takeChunk(chunk: HistoryChunk, known: number): Touched {
    const shown = chunk.generation === this.reading.generation
    const told = shown ? this.confirmed : this.staged
    const touched = new Set<string>()
    const changes = JSON.parse(chunk.changes) as unknown[]
    for (let i = known; i < changes.length; i++) {
      const change = changeOf(changes[i])
      told.take(change, { l: chunk.orders[2 * i]!, c: chunk.orders[2 * i + 1]! }, this.pen.formers)
      touched.add(entityName(change.type, change.id))
      if (shown) this.layAgain(firstIdentity(change))
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
    return this.layFramed(this.own.put(operation))
  }

  /** Confirms what the shed has ordered and lays the rest over. Returns the entities touched. */
  private layFramed(framed: Framed): Set<string> {
    const { operation, changes } = framed
    const refused = new Set(operation.refused.map(r => r.seq))
    const laid: Laid[] = []
    const confirmed: string[] = []
    changes.forEach((change, i) => {
      if (formerOf(change)) this.noteSaidAgain(formerOf(change), framed)
      if (operation.moved || refused.has(change.seq) || this.confirmed.holdsOtherwise(change)) return
      const order = operation.orders[i] ?? undefined
      // One with a former identity may have been settled as that: it is never confirmed from here.
      if (!order || formerOf(change)) {
        laid.push({ change, order: order ?? change.stamp })
        return
      }
      this.confirmed.state.merge(change, order)
      confirmed.push(entityName(change.type, change.id))
    })
    const touched = this.overlay.lay(`${operation.incarnation}:${operation.first}`, laid)
    for (const name of confirmed) touched.add(name)
    return touched
  }

  private noteSaidAgain(former: string, framed: Framed): void {
    const operations = this.saidAgain.get(former) ?? new Set()
    for (const other of operations) {
      const same = other.operation.incarnation === framed.operation.incarnation && other.operation.first === framed.operation.first
      if (same) operations.delete(other)
    }
    this.saidAgain.set(former, operations.add(framed))
  }

  /** What the shed now holds decides whether a change that says it again counts. */
  private layAgain(first: string): void {
    for (const framed of [...(this.saidAgain.get(first) ?? [])]) this.layFramed(framed)
  }

  /** An entity with everything recorded here, sent or not. */
  entity(type: string, id: string): Entity | undefined {
    return this.named(entityName(type, id))
  }

  named(name: string): Entity | undefined {
    if (this.shown.has(name)) return this.shown.get(name)
    const entity = this.overlay.over(this.confirmed.state, name)
    if (entity !== this.confirmed.state.named(name)) this.shown.set(name, entity)
    return entity
  }

  *entities(): IterableIterator<Entity> {
    const names = new Set([...this.confirmed.state.names(), ...this.overlay.names()])
    for (const name of names) yield this.named(name)!
  }

  /** Every refused change, of every incarnation; one that was sent again counts as its later self. */
  refused(): { readonly change: Change; readonly code: string }[] {
    return [...this.own.refused()].flatMap(({ operation, changes }) =>
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
