// Reading packed batches (PROTOCOL.md, section 4): shapes, limits, and each change's own check, which
// is made once for each name. Whatever does not pass is a ShapeError, after which the unpacker is of
// no more use. Mirrors syncproto/unpack.go.

import type { Batch } from './batch'
import { kindList, kindNumber, kindText, maxElements, modeAlone, modeAnew, modeLinked } from './batch'
import { fitForName, fitForText, fitForUUID, ReadNames } from './batch_names'
import { ByteReader } from './bytes'
import { ShapeError } from './canonical'
import type { Change, Scope, Stamp, Value } from './change'
import { extraForm, maxExtra, maxFrameChanges, maxListLength, maxOperationChanges, scopes } from './check'
import { readColumn } from './column'
import { compareText, validStamp } from './order'
import type { Origin } from './origin'
import { originID } from './origin'

type Column = Float64Array

/** Reads the batches of one direction of a conversation, or of a store, in their order. */
export class Unpacker {
  private names = new ReadNames()

  /** No name has come yet. */
  get isFresh(): boolean {
    return this.names.texts.length === 0
  }

  read(data: Uint8Array): Batch {
    const r = new ByteReader(data)
    const batch = new Unpacking(r, this.namesFor(r.byte())).batch()
    if (r.left > 0) throw new ShapeError(`${r.left} bytes follow the end of a batch`)
    return batch
  }

  private namesFor(mode: number): ReadNames {
    if (mode === modeAlone) return new ReadNames()
    if (mode === modeAnew) this.names = new ReadNames()
    else if (mode !== modeLinked) throw new ShapeError(`a batch is of the unknown mode ${mode}`)
    return this.names
  }
}

/** One batch under way. */
class Unpacking {
  /** Elements of lists that may still come. */
  private room = maxElements
  private readonly derivedIDs: string[] = []
  private readonly origins = new Map<string, Origin>()

  constructor(
    private readonly r: ByteReader,
    private readonly names: ReadNames,
  ) {}

  batch(): Batch {
    const n = this.r.count(maxFrameChanges)
    this.names.read(this.r)
    this.derived()
    const changes = this.changes(n)
    const orders = this.orders(changes)
    return { changes, ...(orders && { orders }), ...(this.origins.size > 0 && { origins: this.origins }) }
  }

  private derived(): void {
    const n = this.r.count(maxFrameChanges)
    if (n === 0) return
    const [namespace, person, subject, recorded, purpose] = Array.from({ length: 5 }, () => this.column(n)) as Five
    for (let i = 0; i < n; i++) {
      const origin: Origin = {
        namespace: this.text(namespace[i]!), person: this.text(person[i]!), subject: this.text(subject[i]!),
        recorded: this.text(recorded[i]!), purpose: this.text(purpose[i]!),
      }
      const id = originID(origin)
      if (id === undefined) throw new ShapeError('an id is derived in no namespace, or from a text that is too long')
      this.derivedIDs.push(id)
      this.origins.set(id, origin)
    }
  }

  private column(n: number): Column {
    return readColumn(this.r, n)
  }

  private text(number: number): string {
    const text = this.names.texts[number]
    if (text === undefined) throw new ShapeError(`a batch names text ${number} of ${this.names.texts.length}`)
    return text
  }

  /** A text that may stand in that place. */
  private fit(number: number, place: number): string {
    const text = this.text(number)
    if ((this.names.fits[number]! & place) === 0) throw new ShapeError(`"${text.slice(0, 99)}" cannot stand where a batch has it`)
    return text
  }

  private changes(n: number): Change[] {
    const [incarnation, seq, l, c, rest] = Array.from({ length: 5 }, () => this.column(n)) as Five
    const [person, scope, op, type, id, field] = Array.from({ length: 6 }, () => this.column(n)) as Six
    const [kind, number, extras] = Array.from({ length: 3 }, () => this.column(n)) as Three
    const values = this.values(kind, number)
    const extra = this.extras(extras)
    const changes = new Array<Change>(n)
    let stamp: Stamp | undefined
    for (let i = 0; i < n; i++) {
      if (stamp?.l !== l[i] || stamp?.c !== c[i]) stamp = stampOf(l[i]!, c[i]!)
      if (seq[i]! < 1 || rest[i]! < 0 || rest[i]! >= maxOperationChanges) throw new ShapeError('seq or rest of a change is out of bounds')
      const change = {
        incarnation: this.fit(incarnation[i]!, fitForUUID), seq: seq[i]!, stamp: stamp!, rest: rest[i]!,
        person: this.person(person[i]!), scope: this.scope(scope[i]!), op: this.fit(op[i]!, fitForName),
        type: this.fit(type[i]!, fitForName), id: this.id(id[i]!), field: this.fit(field[i]!, fitForName),
        value: values[i]!,
      }
      changes[i] = extra?.[i] ? { ...change, extra: extra[i]! } : change
    }
    return changes
  }

  /** A derived id, which always fits, or a name. */
  private id(number: number): string {
    return this.derivedIDs[number - this.names.texts.length] ?? this.fit(number, fitForName)
  }

  private person(number: number): string {
    return this.text(number) === '' ? '' : this.fit(number, fitForName)
  }

  private scope(number: number): Scope {
    const scope = this.text(number)
    if (!(scopes as readonly string[]).includes(scope)) throw new ShapeError(`scope "${scope.slice(0, 99)}" is unknown`)
    return scope as Scope
  }

  private values(kinds: Column, numbers: Column): Value[] {
    const values = Array.from(kinds, (kind, i): Value => {
      const number = numbers[i]!
      if (kind === kindNumber) return number + 0 // no -0
      if (kind === kindText) return this.fit(number, fitForText)
      if (kind === kindList) return this.emptyList(number)
      throw new ShapeError(`a value is of the unknown kind ${kind}`)
    })
    return this.filled(values)
  }

  private emptyList(length: number): string[] {
    if (length < 0 || length > Math.min(this.room, maxListLength)) {
      throw new ShapeError(`a list of ${length} elements: the most is ${maxListLength}, and ${maxElements} in a batch`)
    }
    this.room -= length
    return new Array<string>(length).fill('')
  }

  private filled(values: Value[]): Value[] {
    const lists = values.filter(value => typeof value === 'object') as string[][]
    const elements = this.column(lists.reduce((n, list) => n + list.length, 0))
    let at = 0
    for (const list of lists) for (let i = 0; i < list.length; i++) list[i] = this.fit(elements[at++]!, fitForName)
    return values
  }

  private extras(counts: Column): (Record<string, Value> | undefined)[] | undefined {
    let total = 0
    for (const n of counts) {
      if (n < 0 || n > maxExtra) throw new ShapeError(`a change has ${n} extra parts`)
      total += n
    }
    if (total === 0) return undefined
    const names = Array.from(this.column(total), number => this.extraName(number))
    const values = this.values(this.column(total), this.column(total))
    let at = 0
    return Array.from(counts, n => {
      at += n
      return n === 0 ? undefined : extraOf(names.slice(at - n, at), values.slice(at - n, at))
    })
  }

  private extraName(number: number): string {
    const name = this.text(number)
    if (!extraForm.test(name)) throw new ShapeError(`extra part "${name.slice(0, 99)}": names are a to z and _`)
    return name
  }

  private orders(changes: readonly Change[]): (Stamp | null)[] | undefined {
    const told = this.column(changes.length)
    if (told.some(t => t !== 0 && t !== 1)) throw new ShapeError('whether an order is told is neither 0 nor 1')
    const n = told.reduce((sum, t) => sum + t, 0)
    if (n === 0) return undefined
    const l = this.column(n)
    const c = this.column(n)
    let at = -1
    return changes.map(({ stamp }, i) => {
      if (told[i] === 0) return null
      at++
      return l[at] === 0 && c[at] === 0 ? stamp : stampOf(stamp.l + l[at]!, stamp.c + c[at]!)
    })
  }
}

type Three = [Column, Column, Column]
type Five = [...Three, Column, Column]
type Six = [...Five, Column]

function stampOf(l: number, c: number): Stamp {
  const stamp = { l, c }
  if (!validStamp(stamp)) throw new ShapeError(`stamp or order ${l}.${c} is out of bounds`)
  return stamp
}

function extraOf(names: readonly string[], values: readonly Value[]): Record<string, Value> {
  if (names.some((name, i) => i > 0 && compareText(names[i - 1]!, name) >= 0)) {
    throw new ShapeError('the extra parts of a change are not in the order of their names')
  }
  return Object.fromEntries(names.map((name, i) => [name, values[i]!]))
}
