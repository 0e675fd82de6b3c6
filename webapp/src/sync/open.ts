// Opening the notebook: the device's storage, its farm, the hold on it, and the line to the shed.

import { v4 } from 'uuid'
import { openDevice } from '../db/device_db'
import { openFarmDB } from '../db/farm_db'
import { StorageError } from '../db/records'
import { Book } from './book'
import type { Barred, Door, Entered } from './door'
import { FarmNotebook } from './farm_notebook'
import { holdFarm } from './holding'
import { Keeper } from './keeper'
import type { Surroundings } from './line'
import { browserSurroundings, Line } from './line'
import { Membership, settleMember } from './membership'
import type { Notebook, OpenProblem } from './notebook'
import { Session } from './session'
import type { StorageSurroundings } from './storage'
import { browserStorage, firstWrites, keptAFarm, rememberFarm, storageWatch } from './storage'

export interface OpenOptions {
  readonly door: Door
  /** Takes the farm over from another tab, which then closes its notebook. */
  readonly takeOver?: boolean
  /** Called once when this tab may no longer write: another took over, or the storage went away. */
  readonly onLost?: () => void
  /** Where the shed is; the page's own origin unless told. */
  readonly origin?: string
  readonly surroundings?: Surroundings
  readonly locks?: LockManager
  readonly storage?: StorageSurroundings
}

export type Opened =
  | { readonly notebook: Notebook; readonly problem?: undefined; close(): void }
  | { readonly notebook?: undefined; readonly problem: Exclude<OpenProblem, Barred> }
  | NotLetIn

/** The shed answers, and this device has to join its farm. */
export interface NotLetIn {
  readonly notebook?: undefined
  readonly problem: Barred
  readonly device: string
  /** The device kept a farm, and the browser has deleted it. */
  readonly emptied: boolean
}

/** Opens the notebook, or says before the first tap why there is none. */
export async function openNotebook(options: OpenOptions): Promise<Opened> {
  const end = new Ending(options.onLost)
  try {
    return await open(options, end)
  } catch (cause) {
    end.close()
    if (!(cause instanceof StorageError)) throw cause
    console.error(cause)
    return { problem: cause.reason === 'newer_format' || cause.reason === 'full' ? cause.reason : 'no_storage' }
  }
}

async function open(options: OpenOptions, end: Ending): Promise<Opened> {
  const origin = options.origin ?? location.origin
  const locks = options.locks ?? globalThis.navigator?.locks
  const surroundings = options.surroundings ?? browserSurroundings
  const storage = options.storage ?? browserStorage()

  let closed = () => {}
  const device = await openDevice(v4, end.lost, () => closed())
  end.add(() => device.close())
  if (!device.farm) {
    const entry = await options.door.enter(device.id)
    const emptied = keptAFarm(storage)
    if (entry.kind === 'unreachable') return end.with({ problem: emptied ? 'emptied' : 'no_farm' })
    if (entry.kind !== 'member') return end.with({ problem: entry.kind, device: device.id, emptied })
    await settleMember(device, entry)
  }
  const { farm } = device
  const release = await holdFarm(farm, options.takeOver ?? false, end.lost, locks)
  if (!release) return end.with({ problem: 'other_tab' })
  end.add(release)

  const { store, contents } = await openFarmDB(farm, v4(), end.lost, () => closed())
  end.add(() => store.close())
  const book = new Book(farm, contents, v4())
  const first = firstWrites(book, contents, storage)
  await store.commit(first)
  rememberFarm(farm, storage)
  book.apply(first)
  const identity = { get device() { return device.id }, person: () => device.person, newIncarnation: v4 }
  const session = new Session(book, identity)
  const wall = () => surroundings.moment().wall
  const notebook = new FarmNotebook(book, session, device, wall, end.lost)
  const keeper = new Keeper(book, store, touched => notebook.applied(touched))
  const membership = new Membership(options.door, device, entered => belongTo(notebook, farm, entered))
  const url = `${origin.replace(/^http/, 'ws')}/sync`
  const stirred = () => {
    notebook.statusChanged()
    membership.follow(session.link, session.refusal)
  }
  const line = new Line(session, keeper, url, surroundings, stirred, reason => {
    console.error('storing what the shed said', reason)
    if (reason instanceof StorageError && reason.reason === 'lost') end.lost()
  })
  closed = () => notebook.storageStands({ closed: true })
  const watch = storageWatch(storage, facts => notebook.storageStands(facts))
  notebook.attach(keeper, event => {
    line.tell(event)
    if (event.kind === 'recorded') watch.recorded()
  })
  await notebook.forgetOwners(device.member) // its role may be another since it had this farm open
  end.add(() => line.close())
  end.add(wakeOn(() => {
    line.tell({ kind: 'wake' })
    watch.look()
  }))
  line.tell({ kind: 'tick' })
  return { notebook, close: end.close }
}

/** Another farm's shed at this address is joined by a person, and never behind their back. */
async function belongTo(notebook: FarmNotebook, farm: string, entered: Entered): Promise<void> {
  if (entered.member.farm !== farm) return
  const barred = notebook.barred.peek() !== undefined
  await notebook.belongTo(entered)
  if (barred) notebook.tryAgain() // it was let in just now
}

/** Calls when the page comes to the front or the network returns; returns how to stop that. */
function wakeOn(wake: () => void): () => void {
  if (typeof document === 'undefined') return () => {}
  const ifVisible = () => {
    if (document.visibilityState === 'visible') wake()
  }
  addEventListener('online', wake)
  addEventListener('pageshow', wake)
  document.addEventListener('visibilitychange', ifVisible)
  return () => {
    removeEventListener('online', wake)
    removeEventListener('pageshow', wake)
    document.removeEventListener('visibilitychange', ifVisible)
  }
}

/** What has to be let go of, in whatever way the notebook ends. */
class Ending {
  private readonly steps: (() => void)[] = []
  private ended = false

  constructor(private readonly onLost: (() => void) | undefined) {}

  add(step: () => void): void {
    this.steps.push(step)
  }

  readonly close = (): void => {
    if (this.ended) return
    this.ended = true
    for (const step of this.steps.reverse()) step()
  }

  readonly lost = (): void => {
    if (this.ended) return
    this.close()
    this.onLost?.()
  }

  with<T extends Opened>(opened: T): T {
    this.close()
    return opened
  }
}
