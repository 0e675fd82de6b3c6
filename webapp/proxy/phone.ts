// A phone on a real line: the app's own notebook, session and line, wired as src/sync/open.ts wires
// them, over a disk in memory. It can be killed and started again on what the disk holds.

import { v4 } from 'uuid'
import type { FarmID, PersonID } from '../src/crop/nouns'
import type { Device } from '../src/db/device_db'
import { dump } from '../src/log/dump'
import { Book } from '../src/sync/book'
import { FarmNotebook } from '../src/sync/farm_notebook'
import { Keeper } from '../src/sync/keeper'
import { Line } from '../src/sync/line'
import { Session } from '../src/sync/session'
import { surroundings } from './clock'
import { type KillableStore, PhoneDisk } from './disk'
import type { Random } from './random'

/** The app while it runs. */
interface Running {
  readonly book: Book
  readonly session: Session
  readonly notebook: FarmNotebook
  readonly line: Line
  readonly store: KillableStore
}

export class Phone {
  readonly disk: PhoneDisk
  /** What a phone on a sound shed is never told, and what its app should never say. */
  readonly wrongs: string[] = []
  /** Resolves when the app that runs now is killed. */
  gone: Promise<void> = Promise.resolve()
  private tellGone = () => {}
  private readonly id: string
  private app: Running | undefined

  constructor(
    readonly name: string,
    private readonly farm: FarmID,
    private readonly url: string,
    private readonly cookie: string,
    private readonly random: Random,
    /** By how many ms its wall clock is off. */
    readonly skew: number,
  ) {
    this.disk = new PhoneDisk(random.fork())
    this.id = v4({ random: random.bytes(16) })
  }

  get on(): boolean {
    return this.app !== undefined
  }

  private get running(): Running {
    if (!this.app) throw new Error(`phone ${this.name} is off`)
    return this.app
  }

  get notebook(): FarmNotebook {
    return this.running.notebook
  }

  get book(): Book {
    return this.running.book
  }

  /** Starts the app; where the disk fails at once, it stays off. */
  async start(): Promise<void> {
    const newID = () => v4({ random: this.random.bytes(16) })
    const store = this.disk.open()
    const book = new Book(this.farm, this.disk.contents(), newID())
    try {
      await store.commit([{ kind: 'pen', pen: book.pen }])
    } catch {
      return // the app says that there is no storage
    }
    const around = surroundings(this.cookie, this.skew)
    const device = deviceOf(this.id, `${this.name} person` as PersonID, this.farm)
    const session = new Session(book, { device: device.id, person: () => device.person, newIncarnation: newID })
    const notebook = new FarmNotebook(book, session, device, () => around.moment().wall, () => this.wrongs.push('the notebook was lost'))
    const keeper = new Keeper(book, store, touched => notebook.applied(touched))
    const line = new Line(session, keeper, this.url, around, () => this.look(notebook, session), () => {})
    notebook.attach(keeper, event => line.tell(event))
    this.app = { book, session, notebook, line, store }
    this.gone = new Promise(tell => (this.tellGone = tell))
    line.tell({ kind: 'tick' })
  }

  private look(notebook: FarmNotebook, session: Session): void {
    notebook.statusChanged()
    if (session.refusal !== undefined) this.wrongs.push(`the conversation was refused: ${session.refusal}`)
  }

  /** What was not committed is gone. */
  kill(): void {
    this.app?.store.kill()
    this.app?.line.close()
    this.app = undefined
    this.tellGone()
  }

  /** Live, and nothing of its own left to send. */
  get isSettled(): boolean {
    const { session, book: { pen, drafts, reading } } = this.running
    return session.link === 'live' && pen.seq === pen.settled && drafts.size === 0 && reading.staging === null
  }

  get arrival(): number {
    return this.book.reading.cursor?.arrival ?? 0
  }

  dump(): string {
    return dump(this.book.entities())
  }

  /** How it stands, for a seed that fails. */
  describe(): string {
    const { session, book: { pen, drafts, reading } } = this.running
    const { link, refusal } = session
    return `${this.name}: ${JSON.stringify({ link, refusal, next: session.nextTick(), skew: this.skew, pen, drafts: drafts.size, reading })}`
  }
}

function deviceOf(id: string, person: PersonID, farm: FarmID): Device {
  return { id, farm, person, member: undefined, setPerson: async () => {}, setMember: async () => {}, close: () => {} }
}
