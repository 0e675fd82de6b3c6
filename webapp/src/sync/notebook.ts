// What the places see of the change log: the farm as nouns, a way to record, and how the sync
// stands. The one implementation keeps everything in IndexedDB.

import type { ReadonlySignal } from '@preact/signals'
import type { Member } from '../crop/member'
import type { BedID, Day, Farm, PersonID, PlantID, PlantingID, Purpose, ReadingID, Visit, VisitID } from '../crop/nouns'
import type { LineID, PackedID } from '../crop/sale_nouns'
import type { StorageTrouble } from '../db/health'
import type { Fact, Value } from '../log/change'
import type { Happening } from '../log/happened'
import type { Look } from '../log/look'
import type { BackedUp } from './backed_up'
import type { Barred, Entered } from './door'
import type { Link } from './events'

export type { BackedUp } from './backed_up'
export type { Barred, Entered } from './door'
export type { StorageTrouble } from '../db/health'
export { isLoss } from '../db/health'
export type { Happening } from '../log/happened'
export type { Look } from '../log/look'

export interface Notebook {
  /** The farm's nouns with everything recorded here, sent or not. Reading `.value` subscribes. */
  readonly farm: ReadonlySignal<Farm>
  readonly sync: ReadonlySignal<SyncStatus>
  readonly looks: ReadonlySignal<readonly Look[]>
  /** Who counts here. */
  readonly person: ReadonlySignal<PersonID | ''>
  /** To whom this device belongs, as the shed last said; undefined where it never joined. */
  readonly member: ReadonlySignal<Member | undefined>
  /** Why the shed last let this device in no more: what is recorded stays here until it joins again. */
  readonly barred: ReadonlySignal<Barred | undefined>
  /** What a person should know of this device's storage, the gravest first. */
  readonly storage: ReadonlySignal<readonly StorageTrouble[]>

  /**
   * Stores the facts as one operation and resolves when they are on disk; rejects with a
   * RecordError if they could not be, and then nothing of them is kept or shown. A fact whose slot
   * still lies unsent in a draft takes the draft's place.
   */
  record(facts: readonly Fact[]): Promise<void>
  /** The same for what stands on what is stored by then: it is asked for when its turn to be stored comes. */
  recordInTurn(say: () => Said): Promise<void>

  /**
   * Id of this person's visit on this phone; subject is the plant, planting or bed. Once a visit was withdrawn
   * or given another day, a further one.
   */
  visitID(subject: PlantID | PlantingID | BedID, recorded: Day, purpose: Purpose): VisitID
  /** Id under which this person packs for a line on a day on this phone; once that was withdrawn or given another day, a further one. */
  packedID(line: LineID, day: Day): PackedID
  /** The cell's own part that this phone wrote, and what all writers and corrections come to. */
  cell(of: VisitID | PackedID, name: string): CellReading
  /** A visit, also where it is withdrawn and therefore not in the farm. */
  visit(id: VisitID): Visit | undefined
  /** How a visit or a reading came to stand as it does, the oldest first; nothing of one that is unknown here. */
  history(type: 'visit' | 'reading', id: VisitID | ReadingID): readonly Happening[]
  /** Whether a visit was recorded on this phone, by whomever. */
  isFromHere(visit: VisitID): boolean

  /**
   * Settings of this device alone, durable like a record: where a walk stands, which hand. What is kept under a name that
   * begins with `ownersAlone` goes as soon as the device is an owner's no longer.
   */
  kept<T>(name: string): T | undefined
  keep<T>(name: string, value: T): Promise<void>
  choosePerson(id: PersonID): Promise<void>

  /** This device's id, under which the shed knows it. */
  readonly device: string
  /** Under which identity this device writes now: another once its past cannot be proven. */
  writer(): string
  /**
   * The device joined, perhaps another farm: then this notebook is left as it stands, with whatever is
   * unsent in it, and the other farm's is to be opened.
   */
  joined(entered: Entered): Promise<void>

  /** Everything not known to be settled and everything refused, as the text of a file (see unsent.ts). */
  unsentFile(): Promise<string>

  /** A person has read that this device's storage was emptied. */
  forgetLoss(): Promise<void>

  /** Talks to the shed again at once, also after it refused to. */
  tryAgain(): void
}

/** How the names begin of what a device keeps that only an owner may read. */
export const ownersAlone = 'owners.'

export interface Said {
  readonly facts: readonly Fact[]
  /** What this device keeps (see `keep`), stored in the same transaction. */
  readonly alongside: Readonly<Record<string, unknown>>
}

export interface CellReading {
  readonly own: number
  readonly total: number
  /** Corrections that a further one must name, the newest first. */
  readonly tips: readonly string[]
}

export interface SyncStatus {
  readonly link: Link
  /**
   * In operations, each what a person recorded at once: not yet sent; sent, whole, and not yet acknowledged;
   * acknowledged since the start.
   */
  readonly pending: number
  readonly sent: number
  readonly acknowledged: number
  readonly refused: readonly Refused[]
  /** Operations of which the shed refused something. */
  readonly notKept: number
  /** While catching up: changes read and the farm's newest arrival number. */
  readonly progress: { readonly done: number; readonly total: number } | undefined
  /** While there is much to send: changes settled of those that were waiting. */
  readonly outgoing: { readonly done: number; readonly total: number } | undefined
  /** When the phone last was level with the shed, ms since 1970, or 0 for never. */
  readonly levelAt: number
  /** The shed's clock less this phone's, in ms; undefined until told. */
  readonly clockOffset: number | undefined
  /** What the shed last said of its backups; undefined where it has none. */
  readonly backedUp: BackedUp | undefined
  /** Why the shed refused the conversation, when link is 'refused'. */
  readonly refusal: string | undefined
}

/** A change that the shed did not keep: what it said and why. */
export interface Refused {
  readonly seq: number
  readonly code: string
  readonly type: string
  readonly id: string
  readonly field: string
  readonly value: Value
}

/** Why a record could not be stored: the disk is full, the storage is gone, or it is not allowed. */
export class RecordError extends Error {
  readonly reason: 'full' | 'closed' | 'invalid'
  constructor(reason: RecordError['reason'], message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = 'RecordError'
    this.reason = reason
  }
}

/**
 * Why no notebook could be opened, said before the first tap. 'no_farm': this device has not joined a
 * farm yet and the shed does not answer; 'emptied': it had, but the browser deleted what was stored;
 * 'full': there is no room to open it; of Barred, the shed answers and does not let it in.
 */
export type OpenProblem = 'no_storage' | 'other_tab' | 'newer_format' | 'no_farm' | 'emptied' | 'full' | Barred
