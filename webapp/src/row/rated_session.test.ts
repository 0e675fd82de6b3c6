import { signal } from '@preact/signals'
import { beforeEach, describe, expect, it } from 'vitest'
import type { BedID, Day, Farm, Flag, Plant, PlantID, Season, Stand } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import type { Notebook, Said } from '../sync/notebook'
import { ChangedSince } from '../ui/taps'
import { today } from '../ui/today'
import { RatedSession } from './rated_session'
import { standRating } from './stand_walk'

const [a, b, c] = ['a', 'b', 'c'] as [PlantID, PlantID, PlantID]
const [bed, other] = ['b', 'other'] as [BedID, BedID]
const season = 2026 as Season

/** As much of a notebook as a rated walk needs: stands and flags, stored in turn once the disk answers. */
class SlowBook {
  readonly farm = signal<Farm>(farmWith({
    beds: [bedWith({ id: bed })], plantings: [plantingWith()],
    plants: [a, b, c].map((id, i) => plantWith({ id, code: id, line: 1, number: i + 1 })),
  }))
  readonly person = signal('')
  readonly keptHere = new Map<string, unknown>()
  full = false
  private readonly waiting: (() => void)[] = []

  kept(name: string): unknown {
    return this.keptHere.get(name)
  }

  async keep(name: string, value: unknown): Promise<void> {
    this.keptHere.set(name, value)
  }

  recordInTurn(say: () => Said): Promise<void> {
    return new Promise((done, failed) => this.waiting.push(() => {
      try {
        if (this.full) throw new Error('full')
        const { facts, alongside } = say()
        for (const { op, id, field, value } of facts) this.tell(id as PlantID, op, field, String(value))
        for (const [name, kept] of Object.entries(alongside)) this.keptHere.set(name, kept)
        done()
      } catch (reason) {
        failed(reason)
      }
    }))
  }

  private tell(id: PlantID, op: string, field: string, value: string): void {
    const plant = this.plant(id)
    const [day, what] = value.split('/') as [Day, Stand]
    if (field === 'removed') this.put({ ...plant, removed: value as Day })
    if (field === 'stand.2026') this.put({ ...plant, stands: value === '' ? new Map() : new Map([[season, { day, what }]]) })
    if (field === 'flags') this.put({ ...plant, flags: op === 'add' ? [{ kind: value.split('/')[0] as Flag['kind'], day: value.split('/')[1] as Day, by: '' }] : [] })
  }

  put(plant: Plant): void {
    this.farm.value = { ...this.farm.peek(), plants: new Map(this.farm.peek().plants).set(plant.id, plant) }
  }

  plant(id: PlantID): Plant {
    return this.farm.peek().plants.get(id) ?? plantWith({ id })
  }

  async diskAnswers(): Promise<void> {
    for (let i = 0; i < 200; i++) {
      this.waiting.shift()?.()
      await Promise.resolve()
    }
  }
}

let book: SlowBook
let session: RatedSession<Stand>
const open = () => new RatedSession(book as unknown as Notebook, standRating)
const at = () => session.position.value?.at
const found = (plant: PlantID) => book.plant(plant).stands.get(season)?.what

beforeEach(() => {
  today.value = '2026-04-03' as Day
  book = new SlowBook()
  session = open()
  session.enter(bed)
})

describe('a rating', () => {
  it('is stored with the walk’s place, and on to the next plant', async () => {
    void session.rate(a, 'alive')
    expect(at()).toBe(a)
    await book.diskAnswers()
    expect([found(a), at()]).toEqual(['alive', b])
    expect(book.kept('row.stand.position')).toEqual({ bed, season, at: b })
  })

  it('counts once, however often it is tapped before it is stored', async () => {
    for (const stand of ['alive', 'weak', 'gone'] as const) void session.rate(a, stand)
    await book.diskAnswers()
    expect([found(a), found(b), at()]).toEqual(['alive', undefined, b])
  })

  it('leaves the walker where they have gone meanwhile', async () => {
    void session.rate(a, 'alive')
    session.goTo(c)
    await book.diskAnswers()
    expect(at()).toBe(c)
  })

  it('that was not stored says so, and the walk stays', async () => {
    book.full = true
    void session.rate(a, 'alive')
    await book.diskAnswers()
    expect([found(a), at(), String(session.failure.value)]).toEqual([undefined, a, 'Error: full'])
    book.full = false
    void session.rate(a, 'alive')
    await book.diskAnswers()
    expect([found(a), session.failure.value]).toEqual(['alive', undefined])
  })
})

describe('a walk', () => {
  it('goes on where it stood, also after the page was closed', async () => {
    void session.rate(a, 'weak')
    await book.diskAnswers()
    session.goTo(c)
    session = open()
    session.enter(bed)
    expect(at()).toBe(c)
  })

  it('ends behind the last plant, and entered anew goes to what was skipped', async () => {
    session.next()
    void session.rate(b, 'alive')
    void session.rate(c, 'alive')
    await book.diskAnswers()
    expect(at()).toBe('')
    session.enter(bed)
    expect(at()).toBe(a)
  })

  it('begins anew in another bed', async () => {
    void session.rate(a, 'alive')
    await book.diskAnswers()
    session.enter(other)
    expect(session.position.value).toEqual({ bed: other, season, at: '' })
    session.enter(bed)
    expect(at()).toBe(b)
  })

  it('begins anew in another season', async () => {
    void session.rate(a, 'alive')
    await book.diskAnswers()
    today.value = '2027-04-01' as Day
    session.enter(bed)
    expect(session.position.value).toEqual({ bed, season: 2027, at: a })
  })
})

describe('taking back', () => {
  it('undoes the removal with the stand and goes back to the plant', async () => {
    void session.rate(a, 'gone')
    await book.diskAnswers()
    expect([found(a), book.plant(a).removed]).toEqual(['gone', '2026-04-03'])
    void session.takeBack()
    await book.diskAnswers()
    expect([found(a), book.plant(a).removed, at(), session.last()]).toEqual([undefined, '', a, undefined])
  })

  it('undoes a flag first, and only then the rating before it', async () => {
    void session.rate(a, 'alive')
    void session.flag(a, 'colour_off')
    await book.diskAnswers()
    expect(at()).toBe(b)
    void session.takeBack()
    await book.diskAnswers()
    expect([book.plant(a).flags.length, found(a)]).toEqual([0, 'alive'])
    void session.takeBack()
    await book.diskAnswers()
    expect(found(a)).toBeUndefined()
  })

  it('says so where it was changed since, and goes on to the action before', async () => {
    void session.rate(a, 'alive')
    void session.rate(b, 'alive')
    await book.diskAnswers()
    book.put({ ...book.plant(b), stands: new Map([[season, { day: today.value, what: 'gone' }]]) })
    void session.takeBack()
    await book.diskAnswers()
    expect(session.failure.value).toBeInstanceOf(ChangedSince)
    expect([found(b), session.last()?.plant]).toEqual(['gone', a])
  })

  it('is of the same day only', async () => {
    void session.rate(a, 'alive')
    await book.diskAnswers()
    today.value = '2026-04-04' as Day
    expect(session.last()).toBeUndefined()
  })
})
