// The notebook over the phone's records: every place of the app reads and records through it.

import type { ReadonlySignal } from '@preact/signals'
import { signal } from '@preact/signals'
import { type Member, mayManage } from '../crop/member'
import { readVisit } from '../crop/read'
import type { BedID, Day, Farm, FarmID, PersonID, PlantID, PlantingID, Purpose, ReadingID, Visit, VisitID } from '../crop/nouns'
import type { LineID, PackedID } from '../crop/sale_nouns'
import type { Device } from '../db/device_db'
import type { StorageFacts, StorageTrouble } from '../db/health'
import { troublesOf } from '../db/health'
import { StorageError } from '../db/records'
import type { Fact } from '../log/change'
import { count, ownCount } from '../log/count'
import { type Happening, happened } from '../log/happened'
import { compareLooks } from '../log/look'
import type { Look } from '../log/look'
import type { Book, Touched } from './book'
import type { Barred, Entered } from './door'
import { isBarred } from './door'
import { planRecord } from './drafting'
import { planFraming } from './framing'
import type { Keeper } from './keeper'
import { settleMember } from './membership'
import type { CellReading, Notebook, Said, SyncStatus } from './notebook'
import { ownersAlone, RecordError } from './notebook'
import { isFromHere, ownPacked, ownVisit } from './own_visit'
import type { Session } from './session'
import type { SessionEvent } from './events'
import { inReach } from './reach'
import { Shown } from './shown'
import { statusOf } from './status'
import { keptLoss } from './storage'
import { unsentText } from './unsent'

/** Kept while the shed does not let this device in. */
const keptBarred = 'barred'

export class FarmNotebook implements Notebook {
  readonly farm: ReadonlySignal<Farm>
  readonly looks: ReadonlySignal<readonly Look[]>
  readonly person: ReadonlySignal<PersonID | ''>
  readonly member: ReadonlySignal<Member | undefined>
  readonly barred: ReadonlySignal<Barred | undefined>
  readonly sync: ReadonlySignal<SyncStatus>
  readonly storage: ReadonlySignal<readonly StorageTrouble[]>
  private shown: Shown
  /** A reading anew is made ready frame by frame, so that it appears at once when it is complete. */
  private staged: Shown
  private readonly farmSignal
  private readonly looksSignal = signal<readonly Look[]>([])
  private readonly personSignal
  private readonly memberSignal
  private readonly barredSignal
  private readonly syncSignal
  private readonly storageSignal
  private stands: Omit<StorageFacts, 'lost'> = { closed: false }
  private keeper!: Keeper
  private tell: (event: SessionEvent) => void = () => {}

  constructor(
    private readonly book: Book,
    private readonly session: Session,
    private readonly settings: Device,
    private readonly wall: () => number,
    private readonly onLost: () => void,
  ) {
    this.shown = this.newShown()
    this.staged = this.newShown()
    this.shown.update(book.names(), name => book.named(name))
    this.staged.update(book.stagedNames(), name => book.stagedNamed(name))
    this.farm = this.farmSignal = signal(this.shown.farm)
    this.looks = this.looksSignal
    this.person = this.personSignal = signal(settings.person)
    this.member = this.memberSignal = signal(settings.member)
    this.barred = this.barredSignal = signal(book.kept.get(keptBarred) as Barred | undefined)
    this.sync = this.syncSignal = signal(statusOf(book, session))
    this.storage = this.storageSignal = signal<readonly StorageTrouble[]>([])
    this.showStorage()
    this.showLooks()
  }

  private newShown(): Shown {
    return new Shown(this.book.farm as FarmID)
  }

  /** Ties the notebook to the records and to the session, which both need it first. */
  attach(keeper: Keeper, tell: (event: SessionEvent) => void): void {
    this.keeper = keeper
    this.tell = tell
  }

  /** Shows what was just stored. */
  applied({ names, staged, switched, begun }: Touched): void {
    if (begun) this.staged = this.newShown()
    if (switched) {
      this.shown = this.staged
      this.staged = this.newShown()
      this.shown.update(new Set([...staged, ...names]), name => this.book.named(name))
    } else {
      this.shown.update(names, name => this.book.named(name))
      this.staged.update(staged, name => this.book.stagedNamed(name))
    }
    if (this.farmSignal.peek() !== this.shown.farm) this.farmSignal.value = this.shown.farm
    this.showLooks()
    this.statusChanged()
  }

  statusChanged(): void {
    this.syncSignal.value = statusOf(this.book, this.session)
    this.lookIfBarred(this.session)
  }

  /** Out of reach nothing is heard of it: what was said last stands. */
  private lookIfBarred({ link, refusal }: Session): void {
    const barred = link === 'refused' && isBarred(refusal) ? refusal : inReach({ link }) ? undefined : this.barredSignal.peek()
    if (barred === this.barredSignal.peek()) return
    this.barredSignal.value = barred
    this.keep(keptBarred, barred).catch((reason: unknown) => console.error('keeping whether the shed lets this device in', reason))
  }

  /** What the browser says of its storage, or does to it. */
  storageStands(facts: Partial<StorageFacts>): void {
    this.stands = { ...this.stands, ...facts }
    this.showStorage()
  }

  private showStorage(): void {
    this.storageSignal.value = troublesOf({ ...this.stands, lost: this.book.kept.get(keptLoss) === true })
  }

  async forgetLoss(): Promise<void> {
    await this.keep(keptLoss, false)
    this.showStorage()
  }

  private showLooks(): void {
    const looks = this.shown.looks()
    const before = this.looksSignal.peek()
    const same = looks.length === before.length && looks.every((look, i) => compareLooks(look, before[i]!) === 0)
    if (!same) this.looksSignal.value = looks
  }

  record(facts: readonly Fact[]): Promise<void> {
    return this.recordInTurn(() => ({ facts, alongside: {} }))
  }

  async recordInTurn(say: () => Said): Promise<void> {
    const person = this.person.peek()
    await this.store(() => {
      const { facts, alongside } = say()
      const kept = Object.entries(alongside).map(([name, value]) => ({ kind: 'kept' as const, name, value }))
      return [...planRecord(this.book, facts, person, this.wall()), ...kept]
    })
    this.tell({ kind: 'recorded' })
  }

  /** Plans in turn and stores; what a person is told is a RecordError. */
  private async store(plan: () => Parameters<Keeper['commit']>[0]): Promise<void> {
    try {
      await this.keeper.inTurn(async () => this.keeper.commit(plan()), true)
    } catch (cause) {
      throw this.recordError(cause)
    }
  }

  private recordError(cause: unknown): unknown {
    if (!(cause instanceof StorageError)) return cause
    if (cause.reason === 'lost') this.onLost()
    const reason = cause.reason === 'full' ? 'full' : 'closed'
    return new RecordError(reason, `recording: ${cause.message}`, { cause })
  }

  visitID(subject: PlantID | PlantingID | BedID, recorded: Day, purpose: Purpose): VisitID {
    return ownVisit(this.book, this.person.peek(), subject, recorded, purpose)
  }

  packedID(line: LineID, day: Day): PackedID {
    return ownPacked(this.book, this.person.peek(), line, day)
  }

  cell(of: VisitID | PackedID, name: string): CellReading {
    const entity = this.book.entity('visit', of) ?? this.book.entity('packed', of) // no two of them have one id
    if (!entity) return { own: 0, total: 0, tips: [] }
    const { total, tips } = count(entity, name)
    return { own: ownCount(entity, name, this.book.pen.incarnation), total, tips }
  }

  visit(id: VisitID): Visit | undefined {
    const entity = this.book.entity('visit', id)
    return entity && readVisit(entity)
  }

  history(type: 'visit' | 'reading', id: VisitID | ReadingID): readonly Happening[] {
    const entity = this.book.entity(type, id)
    return entity ? happened(entity) : []
  }

  isFromHere(visit: VisitID): boolean {
    return isFromHere(this.book, visit)
  }

  kept<T>(name: string): T | undefined {
    return this.book.kept.get(name) as T | undefined
  }

  async keep<T>(name: string, value: T): Promise<void> {
    // An answer may come that was asked for while the device was still an owner's.
    if (name.startsWith(ownersAlone) && !mayManage(this.memberSignal.peek())) return
    await this.store(() => [{ kind: 'kept', name, value }])
  }

  async choosePerson(id: PersonID): Promise<void> {
    try {
      await this.settings.setPerson(id)
    } catch (cause) {
      throw this.recordError(cause)
    }
    this.personSignal.value = id
    this.tell({ kind: 'person' })
  }

  writer(): string {
    return this.book.pen.incarnation
  }

  get device(): string {
    return this.settings.id
  }

  async joined(entered: Entered): Promise<void> {
    await this.belongTo(entered)
    // On the line that stands the shed still takes this device for what it was.
    this.tell({ kind: 'person' })
    this.tryAgain()
  }

  /** Forgets what only an owner may read where the device is none's. */
  async forgetOwners(member: Member | undefined): Promise<void> {
    const names = [...this.book.kept].flatMap(([name, value]) => (name.startsWith(ownersAlone) && value !== undefined ? [name] : []))
    if (mayManage(member) || names.length === 0) return
    await this.store(() => names.map((name) => ({ kind: 'kept', name, value: undefined })))
  }

  /** Takes over what the shed says of this device. */
  async belongTo(entered: Entered): Promise<void> {
    const { id } = this.settings
    // Before the role changes, so that it cannot be left over where the app is closed in between.
    if (entered.member.farm === this.book.farm) await this.forgetOwners(entered.member)
    try {
      await settleMember(this.settings, entered)
    } catch (cause) {
      throw this.recordError(cause)
    }
    if (entered.member.farm !== this.book.farm) return
    const other = this.settings.id !== id || this.settings.person !== this.personSignal.peek()
    this.memberSignal.value = this.settings.member
    this.personSignal.value = this.settings.person
    if (other) this.tell({ kind: 'person' })
    await this.forgetOwners(entered.member) // what came in between
  }

  async unsentFile(): Promise<string> {
    await this.store(() => planFraming(this.book, true))
    return unsentText(this.book, this.device)
  }

  tryAgain(): void {
    this.tell({ kind: 'wake', insist: true })
  }
}
