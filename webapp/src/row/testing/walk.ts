// A walk for tests: over the real notebook, with the disk in memory.

import { beforeEach } from 'vitest'
import { bedFacts, plantFacts, plantingFacts } from '../../crop/facts'
import type { Bed, BedID, Day, Plant, PlantID, Planting, PlantingID, Season } from '../../crop/nouns'
import { plantWith } from '../../crop/testing/nouns'
import type { Device } from '../../db/device_db'
import type { Contents, Store } from '../../db/records'
import { Book } from '../../sync/book'
import { planRecord } from '../../sync/drafting'
import { FarmNotebook } from '../../sync/farm_notebook'
import { Keeper } from '../../sync/keeper'
import { Session as SyncSession } from '../../sync/session'
import { today } from '../../ui/today'
import { viewOf } from '../day'
import { Session } from '../session'

export const day = '2026-06-03' as Day
export const [bed, other] = ['bed', 'other'] as BedID[] as [BedID, BedID]
export const [a, b, c, plain, far] = ['a', 'b', 'c', 'plain', 'far'] as PlantID[] as [PlantID, PlantID, PlantID, PlantID, PlantID]
const whole = new Map([[2026 as Season, { from: '2026-01-01' as Day, to: '2026-12-31' as Day }]])

function plant(id: PlantID, number: number, at: BedID, counted: Plant['counted']): Plant {
  return plantWith({ id, code: id, planting: at as unknown as PlantingID, line: 1, number, counted })
}

/** Three counted plants and a plain one in a bed, and a plain one in another. */
const farm = [
  ...[bed, other].flatMap((id) => bedFacts({ id, name: id, length: 0, width: 0, lines: 0, cutBack: new Map() } as unknown as Bed)),
  ...[bed, other].flatMap((id) => plantingFacts({ id, stock: 's', bed: id, planted: '2025-09-01', firstSeason: 2026 } as unknown as Planting)),
  ...[plant(a, 1, bed, whole), plant(plain, 2, bed, new Map()), plant(b, 3, bed, whole), plant(c, 4, bed, whole), plant(far, 1, other, new Map())]
    .flatMap(plantFacts),
]

const nothingYet: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }
const device = { id: '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6', farm: 'farm', person: 'p1' } as unknown as Device

/** A walk that was begun in the bed of four. */
export class TestWalk {
  readonly notebook: FarmNotebook
  readonly session: Session
  commits = 0
  private onTheirWay = 0

  constructor() {
    today.value = day
    const book = new Book('farm', nothingYet, '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c')
    book.apply(planRecord(book, farm, 'p1', 1))
    const syncing = new SyncSession(book, { device: device.id, person: () => 'p1', newIncarnation: () => '' })
    this.notebook = new FarmNotebook(book, syncing, device, () => 2, () => {})
    this.notebook.attach(new Keeper(book, this.disk(), (touched) => this.notebook.applied(touched)), () => {})
    this.session = new Session(this.notebook)
    this.session.open(bed)
  }

  private disk(): Store {
    const commit = () => new Promise<void>((done) => {
      this.commits++
      this.onTheirWay++
      setTimeout(() => { this.onTheirWay--; done() }, 1)
    })
    return { commit, close: () => {} }
  }

  /** Nothing is on its way to the disk, and what waited for that has not begun anything either. */
  async settled(): Promise<void> {
    for (let quiet = 0; quiet < 5; quiet = this.onTheirWay > 0 ? 0 : quiet + 1) await new Promise((done) => setTimeout(done, 1))
  }

  state(id: PlantID) {
    return viewOf(this.notebook.farm.value, day).state(id)
  }

  /** Of which plants "nothing here" stands. */
  nothings() {
    return [...this.notebook.farm.value.visits.values()].filter(({ purpose }) => purpose === 'nothing').map(({ plant: of }) => of)
  }
}

/** A walk of its own for each test that follows. */
export function walkOfEach() {
  let walk = new TestWalk()
  beforeEach(() => { walk = new TestWalk() })
  return {
    get notebook() { return walk.notebook },
    get session() { return walk.session },
    get commits() { return walk.commits },
    settled: () => walk.settled(),
    state: (id: PlantID) => walk.state(id),
    nothings: () => walk.nothings(),
  }
}
