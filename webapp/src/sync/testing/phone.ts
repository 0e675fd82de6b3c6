// A phone for tests: the real book and session over a disk in memory and a wire that can be cut at
// any message.

import type { Contents, DraftOperation, HistoryChunk, OwnOperation, Write } from '../../db/records'
import type { Fact } from '../../log/change'
import { Book } from '../book'
import { planRecord } from '../drafting'
import type { SessionEvent } from '../events'
import { Session } from '../session'
import { ShedLine } from './shed_line'
import type { ShedModel } from './shed_model'

/** A disk that holds what was committed, as the database does. */
export class Disk {
  /** Nothing that the shed says can be stored. */
  full = false
  private pen: Contents['pen']
  private reading: Contents['reading']
  private readonly drafts = new Map<number, DraftOperation>()
  private readonly own = new Map<string, OwnOperation>()
  private chunks = new Map<string, HistoryChunk>()
  private readonly kept = new Map<string, unknown>()

  commit(writes: readonly Write[]): void {
    for (const write of structuredClone(writes)) {
      if (write.kind === 'pen') this.pen = write.pen
      if (write.kind === 'reading') this.reading = write.reading
      if (write.kind === 'draft') this.drafts.set(write.draft.id, write.draft)
      if (write.kind === 'drop_draft') this.drafts.delete(write.draft)
      if (write.kind === 'own') this.own.set(`${write.operation.incarnation}:${write.operation.first}`, write.operation)
      if (write.kind === 'chunk') this.chunks.set(`${write.chunk.generation}:${write.chunk.number}`, write.chunk)
      if (write.kind === 'kept') this.kept.set(write.name, write.value)
      if (write.kind === 'forget') {
        this.chunks = new Map([...this.chunks].filter(([, c]) => c.generation !== write.generation))
      }
    }
  }

  contents(): Contents {
    const chunks = [...this.chunks.values()].sort((a, b) => a.generation - b.generation || a.number - b.number)
    const contents = { drafts: [...this.drafts.values()], own: [...this.own.values()], chunks, kept: this.kept }
    return structuredClone({ ...contents, pen: this.pen, reading: this.reading })
  }

  copy(): Disk {
    const { pen, reading, drafts, own, chunks, kept } = this.contents()
    const disk = new Disk()
    if (pen && reading) disk.commit([{ kind: 'pen', pen }, { kind: 'reading', reading }])
    disk.commit(drafts.map(draft => ({ kind: 'draft', draft })))
    disk.commit(own.map(operation => ({ kind: 'own', operation })))
    disk.commit([...kept].map(([name, value]) => ({ kind: 'kept', name, value })))
    disk.commit(chunks.map(chunk => ({ kind: 'chunk', chunk, fresh: [] })))
    return disk
  }
}

let minted = 0
/** Incarnations of the right form that differ and repeat from run to run. */
export function mintIncarnation(): string {
  return `00000000-0000-4000-8000-${String(++minted).padStart(12, '0')}`
}

export class Phone {
  book!: Book
  session!: Session
  private line: ShedLine | undefined
  private toShed: (string | Uint8Array)[] = []

  constructor(
    readonly name: string,
    private readonly shed: ShedModel,
    private readonly time: { now: number },
    /** How far this phone's clock is off, in ms. */
    private readonly skew = 0,
    readonly disk = new Disk(),
  ) {
    this.start()
  }

  /** Starts from what the disk holds, as after a kill. */
  start(): void {
    this.hangUp()
    this.book = new Book(this.shed.farm, this.disk.contents(), mintIncarnation())
    this.disk.commit([{ kind: 'pen', pen: this.book.pen }, { kind: 'reading', reading: this.book.reading }])
    this.session = new Session(this.book, {
      device: this.name, person: () => '', newIncarnation: mintIncarnation,
    })
  }

  record(...facts: Fact[]): void {
    this.store(planRecord(this.book, facts, this.name, this.wall()))
    this.happen({ kind: 'recorded' })
  }

  private wall(): number {
    return this.shed.wall + this.skew
  }

  private store(writes: readonly Write[]): void {
    this.disk.commit(writes)
    this.book.apply(writes)
  }

  happen(event: SessionEvent): void {
    for (const effect of this.session.handle(event, { now: this.time.now, wall: this.wall() })) {
      if (effect.kind === 'connect') {
        const line: ShedLine = new ShedLine(this.shed, () => {
          if (line === this.line) this.cutOff()
        })
        this.line = line
        this.toShed = []
        this.happen({ kind: 'opened' })
      }
      if (effect.kind === 'close') this.hangUp()
      if (effect.kind === 'send') this.toShed.push(effect.data)
      if (effect.kind === 'store') {
        if (this.disk.full) return this.happen({ kind: 'store_failed' })
        this.store(effect.writes)
        this.happen({ kind: 'stored' })
      }
    }
  }

  private hangUp(): void {
    const line = this.line
    this.line = undefined
    line?.cut()
  }

  /** Both directions lose what they had under way. */
  cutOff(): void {
    this.line = undefined
    this.happen({ kind: 'closed' })
  }

  cut(): void {
    if (this.line) this.line.cut()
  }

  /** Carries one message to the shed; tells whether there was one. */
  carryUp(): boolean {
    const data = this.toShed.shift()
    if (data !== undefined) this.line?.hear(data)
    return data !== undefined
  }

  /** Carries one message to the phone. */
  carryDown(): boolean {
    const data = this.line?.said.shift()
    if (data !== undefined) this.happen({ kind: 'message', data })
    return data !== undefined
  }
}

/** Carries everything and lets time pass until nothing is left to say. */
export function heal(phones: readonly Phone[], time: { now: number }, shed: ShedModel): void {
  for (let round = 0; round < 200; round++) {
    for (let moved = true; moved; ) {
      moved = false
      for (const phone of phones) while (phone.carryUp() || phone.carryDown()) moved = true
    }
    time.now += 500
    shed.wall += 500
    for (const phone of phones) phone.happen({ kind: 'tick' })
  }
}
