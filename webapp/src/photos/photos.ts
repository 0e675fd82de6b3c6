// The photos of a farm on this device: taking them in, bringing them to the shed in the background, and
// showing them, those of other phones too.

import { computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import { photoFacts } from '../crop/facts'
import type { Farm, PhotoHash, PlantID } from '../crop/nouns'
import { askStorage, troublesOf } from '../db/health'
import { StorageError } from '../db/records'
import type { Notebook } from '../sync/notebook'
import { inReach } from '../sync/reach'
import { digest } from './digest'
import { beyondKept, isOnlyHere, neverNamed, stands, waits } from './keeping'
import { openPhotoDB, type Bytes, type OwnPhoto, type PhotoDB } from './photo_db'
import { prepare, type Prepared } from './prepare'
import { PhotoProblem } from './problem'
import { type Fetched, type Removal, type ShedPhotos, shedPhotos } from './requests'
import { type Mark, Sending } from './sending'
import { savedName } from './saved'
import { Uploads } from './uploads'
import { ZipWriter } from './zip'

/** Thumbnails of photos of other phones that are kept. */
const mostSmalls = 2_000
/** Milliseconds after which the shed is taken not to send a picture. */
const fetchPatience = 60_000

export interface PhotoSurroundings {
  prepare(picked: Blob): Promise<Prepared>
  readonly shed: ShedPhotos
  readonly storage: StorageManager | undefined
  /** Milliseconds since 1970. */
  wall(): number
}

export const browserPhotos = (): PhotoSurroundings =>
  ({ prepare, shed: shedPhotos(), storage: globalThis.navigator?.storage, wall: () => Date.now() })

export interface Amount {
  readonly count: number
  readonly bytes: number
}

export interface SavedPhotos {
  readonly file: Blob
  readonly held: number
  /** Of so many the bytes are not here any more. */
  readonly lost: number
}

export class Photos {
  /** The photos of this device whose bytes are here. */
  readonly own: ReadonlySignal<ReadonlyMap<PhotoHash, OwnPhoto>>
  /** Those at a plant that the shed does not have yet. */
  readonly waiting: ReadonlySignal<Amount>
  /** Those whose bytes are nowhere else (isOnlyHere). */
  readonly onlyHere: ReadonlySignal<Amount>
  /** How many of those at a plant the shed refused for good. */
  readonly refused: ReadonlySignal<number>
  /** Why the shed takes no photo for the moment (Sending.trouble). */
  readonly trouble: ReadonlySignal<string>
  /** Whether the shed can be asked for a picture. */
  readonly inReach: ReadonlySignal<boolean>

  /** Of which it was told since the app was opened that an owner deleted them. */
  readonly removed: ReadonlySignal<ReadonlySet<PhotoHash>>

  /** Why pictures that were put to a plant came to nothing, until a person has seen it. */
  readonly notTaken: ReadonlySignal<ReadonlyMap<PlantID, readonly unknown[]>>

  private readonly notTakenSignal = signal<ReadonlyMap<PlantID, readonly unknown[]>>(new Map())
  private readonly ownSignal = signal<ReadonlyMap<PhotoHash, OwnPhoto>>(new Map())
  private readonly removedSignal = signal<ReadonlySet<PhotoHash>>(new Set())
  /** Thumbnails of other phones that were asked about on this line to the shed. */
  private readonly askedAbout = new Set<PhotoHash>()
  private readonly troubleSignal = signal('')
  private readonly db: Promise<PhotoDB | undefined>
  private readonly uploads: Uploads
  private readonly ends: (() => void)[] = []
  private closed = false

  constructor(
    private readonly notebook: Pick<Notebook, 'farm' | 'sync' | 'record'>,
    private readonly around: PhotoSurroundings = browserPhotos(),
  ) {
    const { farm, sync } = notebook
    const atPlants = computed(() => [...this.ownSignal.value.values()].filter(photo => stands(photo, farm.value)))
    const toSend = computed(() => atPlants.value.filter(photo => waits(photo, farm.value)))
    this.own = this.ownSignal
    this.notTaken = this.notTakenSignal
    this.removed = this.removedSignal
    this.trouble = this.troubleSignal
    this.waiting = computed(() => amountOf(toSend.value))
    this.onlyHere = computed(() => amountOf(this.nowhereElse(farm.value)))
    this.refused = computed(() => atPlants.value.filter(({ refusal }) => refusal !== '').length)
    this.inReach = computed(() => inReach(sync.value))
    const sending = new Sending(() => atPlants.peek().filter(({ refusal }) => refusal === ''))
    this.uploads = new Uploads({
      sending, shed: around.shed,
      bytes: async hash => (await this.db)?.bytes(hash),
      mark: marks => this.mark(marks),
      stirred: () => { this.troubleSignal.value = sending.trouble },
    })
    this.db = this.open(toSend)
  }

  close(): void {
    this.closed = true
    for (const end of this.ends) end()
    this.uploads.close()
    void this.db.then(db => db?.close())
  }

  /** Resolves when it is known what is here. */
  async opened(): Promise<void> {
    await this.db
  }

  private async open(toSend: ReadonlySignal<readonly OwnPhoto[]>): Promise<PhotoDB | undefined> {
    try {
      const db = await openPhotoDB(this.notebook.farm.peek().id)
      const own = await db.own()
      const never = new Set(this.neverNamed(own))
      await db.drop([...never])
      this.ownSignal.value = new Map(own.filter(({ hash }) => !never.has(hash)).map(photo => [photo.hash, photo]))
      if (!this.closed) this.follow(toSend)
      return db
    } catch (reason) {
      console.error('opening the photos of this device', reason) // what comes from the shed is shown all the same
      return undefined
    }
  }

  private neverNamed(own: readonly OwnPhoto[]): PhotoHash[] {
    const { farm, sync } = this.notebook
    const refused = new Set(sync.peek().refused.map(({ value }) => value))
    return neverNamed(own, farm.peek(), refused, this.around.wall())
  }

  /** News make a line that stands catch up for a moment: it is the same line. */
  private follow(toSend: ReadonlySignal<readonly OwnPhoto[]>): void {
    let up = false
    this.ends.push(effect(() => {
      const { link } = this.notebook.sync.value
      const before = up
      up = link === 'live' || (up && link === 'catching_up')
      if (up && !before) this.askedAbout.clear()
      if (up !== before) this.uploads.tell({ kind: up ? 'up' : 'down' })
    }))
    this.ends.push(effect(() => {
      if (toSend.value.length > 0) this.uploads.tell({ kind: 'look' })
    }))
  }

  /**
   * Puts a picture to a plant, and resolves once it is stored and recorded; 'there' where the plant has
   * it. Rejects with a PhotoProblem or a RecordError. Its bytes are on disk before a change names them,
   * so no change of this device names a photo that it lost; at worst there is a photo without a change.
   */
  async add(plant: PlantID, picked: Blob): Promise<'added' | 'there'> {
    try {
      return await this.takeIn(plant, picked)
    } catch (reason) {
      const before = this.notTakenSignal.peek()
      this.notTakenSignal.value = new Map(before).set(plant, [...(before.get(plant) ?? []), reason])
      throw reason
    }
  }

  /** A person has seen why pictures of a plant were not taken in. */
  seen(plant: PlantID): void {
    const left = new Map(this.notTakenSignal.peek())
    if (left.delete(plant)) this.notTakenSignal.value = left
  }

  private async takeIn(plant: PlantID, picked: Blob): Promise<'added' | 'there'> {
    const { hash, isNew } = await this.bring(plant, await this.around.prepare(picked))
    if (!isNew) return 'there'
    await this.notebook.record(photoFacts(plant, hash, true))
    return 'added'
  }

  /**
   * Stores a picture that who calls puts to a plant in an operation of its own; isNew where the plant does not have
   * it yet. Rejects with a PhotoProblem. While it is not named it is not sent, and it is dropped after a day.
   */
  async bring(plant: PlantID, { bytes, small }: Prepared): Promise<{ readonly hash: PhotoHash; readonly isNew: boolean }> {
    const db = await this.db
    if (!db) throw new PhotoProblem('no_storage', 'storing a photo: the browser gives no storage for it')
    await this.checkRoom()
    const hash = await digest(bytes)
    await this.keep(db, { hash, plants: [plant], size: bytes.length, at: this.around.wall(), state: 'waiting', refusal: '' }, bytes, small)
    const there = this.notebook.farm.peek().plants.get(plant)?.photos ?? []
    return { hash, isNew: !there.some(photo => photo.hash === hash) }
  }

  /** Photos must not take the room that the next counts need. */
  private async checkRoom(): Promise<void> {
    const { usage, quota } = await askStorage(this.around.storage, false)
    if (!troublesOf({ usage, quota, closed: false, lost: false }).includes('nearly_full')) return
    throw new PhotoProblem('full', `storing a photo: ${usage} of ${quota} bytes are in use`)
  }

  private async keep(db: PhotoDB, photo: OwnPhoto, bytes: Bytes, small: Bytes): Promise<void> {
    try {
      this.show([await db.keep(photo, bytes, small)])
    } catch (cause) {
      const full = cause instanceof StorageError && cause.reason === 'full'
      throw new PhotoProblem(full ? 'full' : 'no_storage', `storing a photo of ${photo.size} bytes`, { cause })
    }
  }

  /** The plant shows the photo no more. Its bytes stay where they are, so that it can be put back. */
  takeAway(plant: PlantID, hash: PhotoHash): Promise<void> {
    return this.notebook.record(photoFacts(plant, hash, false))
  }

  putBack(plant: PlantID, hash: PhotoHash): Promise<void> {
    return this.notebook.record(photoFacts(plant, hash, true))
  }

  /** The photos that are nowhere else, in full, as one ZIP file. */
  async onlyHereFile(): Promise<SavedPhotos> {
    const farm = this.notebook.farm.peek()
    const db = await this.db
    const zip = new ZipWriter()
    const photos = this.nowhereElse(farm)
    let held = 0
    for (const photo of photos) {
      const bytes = await db?.bytes(photo.hash)
      if (!bytes) continue // the storage of this device has lost it: the others are saved all the same
      zip.add({ name: savedName(photo, farm), bytes, at: photo.at })
      held++
    }
    return { file: zip.finish(), held, lost: photos.length - held }
  }

  private nowhereElse(farm: Farm): OwnPhoto[] {
    return [...this.ownSignal.value.values()].filter(photo => isOnlyHere(photo, farm))
  }

  /** A thumbnail, from this device or else from the shed, and then it stays here until it is deleted there. */
  async small(hash: PhotoHash): Promise<Fetched> {
    const kept = await this.kept(db => db.small(hash))
    if (kept) {
      void this.askAbout(hash)
      return { kind: 'here', bytes: kept }
    }
    const fetched = await this.fetched(hash, signal => this.around.shed.small(hash, signal))
    if (fetched.kind === 'here') void this.keepSmall(hash, fetched.bytes)
    return fetched
  }

  async full(hash: PhotoHash): Promise<Fetched> {
    const kept = await this.kept(db => db.bytes(hash))
    if (kept) return { kind: 'here', bytes: kept }
    return this.fetched(hash, signal => this.around.shed.full(hash, signal))
  }

  /** Those of this device are asked about without being looked at (Sending). */
  private async askAbout(hash: PhotoHash): Promise<void> {
    if (this.askedAbout.has(hash) || this.ownSignal.peek().has(hash) || !this.inReach.peek()) return
    this.askedAbout.add(hash)
    const fetched = await this.fetched(hash, signal => this.around.shed.small(hash, signal))
    if (fetched.kind === 'out_of_reach') this.askedAbout.delete(hash)
  }

  /** Deletes a picture at the shed for good, for every phone, and then here. What the log says of it stays. */
  async remove(hash: PhotoHash): Promise<Removal> {
    if (!this.inReach.peek()) return 'out_of_reach'
    try {
      const removal = await this.around.shed.remove(hash, AbortSignal.timeout(fetchPatience))
      if (removal === 'removed') await this.forget([hash])
      return removal
    } catch (reason) {
      console.error('asking the shed to delete a picture', reason)
      return 'out_of_reach'
    }
  }

  private async kept(read: (db: PhotoDB) => Promise<Bytes | undefined>): Promise<Bytes | undefined> {
    const db = await this.db
    try {
      return db && (await read(db))
    } catch (reason) {
      console.error('reading a picture on this device; the shed is asked for it', reason)
      return undefined
    }
  }

  private async fetched(hash: PhotoHash, ask: (signal: AbortSignal) => Promise<Fetched>): Promise<Fetched> {
    if (!this.inReach.peek()) return { kind: 'out_of_reach' }
    try {
      const fetched = await ask(AbortSignal.timeout(fetchPatience))
      if (fetched.kind === 'removed') await this.forget([hash])
      return fetched
    } catch (reason) {
      console.error('asking the shed for a picture', reason)
      return { kind: 'out_of_reach' }
    }
  }

  private async keepSmall(hash: PhotoHash, bytes: Bytes): Promise<void> {
    try {
      await (await this.db)?.keepSmall({ hash, bytes, at: this.around.wall() }, mostSmalls)
    } catch (reason) {
      console.error('keeping a thumbnail; it is fetched again when it is wanted', reason)
    }
  }

  private async mark(marks: readonly Mark[]): Promise<void> {
    const db = await this.db
    if (!db) return
    this.show(await db.mark(marks))
    await this.forget(marks.filter(({ refusal }) => refusal === 'removed').map(({ hash }) => hash))
    await this.letGo(db)
  }

  /** What an owner deleted goes from this device too, with its thumbnail. */
  private async forget(removed: readonly PhotoHash[]): Promise<void> {
    if (removed.length === 0) return
    this.removedSignal.value = new Set([...this.removedSignal.peek(), ...removed])
    const db = await this.db
    try {
      await db?.drop(removed)
      this.ownSignal.value = new Map([...this.ownSignal.peek()].filter(([hash]) => !removed.includes(hash)))
    } catch (reason) {
      console.error('dropping photos that an owner deleted', reason)
    }
  }

  /** What the shed has and is not to be kept here too. */
  private async letGo(db: PhotoDB): Promise<void> {
    const gone = beyondKept(this.ownSignal.peek().values())
    if (gone.length === 0) return
    try {
      await db.letGo(gone)
      this.ownSignal.value = new Map([...this.ownSignal.peek()].filter(([hash]) => !gone.includes(hash)))
    } catch (reason) {
      console.error('letting go of photos that the shed has; it is tried again after the next', reason)
    }
  }

  private show(photos: readonly OwnPhoto[]): void {
    this.ownSignal.value = new Map([...this.ownSignal.peek(), ...photos.map(photo => [photo.hash, photo] as const)])
  }
}

function amountOf(photos: readonly OwnPhoto[]): Amount {
  return { count: photos.length, bytes: photos.reduce((sum, { size }) => sum + size, 0) }
}
