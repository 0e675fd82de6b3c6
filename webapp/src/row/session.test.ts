import { signal } from '@preact/signals'
import { beforeEach, describe, expect, it } from 'vitest'
import type { BedID, Day, Farm, PlantID, Season, VisitID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import type { CellReading, Notebook, Said } from '../sync/notebook'
import { ChangedSince } from '../ui/taps'
import { today } from '../ui/today'
import type { Journal } from './journal'
import { Session } from './session'

const day = '2026-06-03' as Day
const [a, b] = ['a', 'b'] as PlantID[] as [PlantID, PlantID]

function farmOf(...ids: readonly PlantID[]): Farm {
  const counted = new Map([[2026 as Season, { from: '2026-01-01' as Day, to: '2026-12-31' as Day }]])
  const plants = ids.map((id, i) => plantWith({ id, code: id, line: 1, number: i + 1, counted }))
  return farmWith({ beds: [bedWith({ id: 'bed' as BedID })], plantings: [plantingWith({ bed: 'bed' as BedID })], plants })
}

/** As much of a notebook as a walk needs: counts in memory, on disk only when the test says so. */
class SlowBook {
  readonly farm = signal(farmOf(a, b))
  readonly person = signal('')
  readonly cells = new Map<string, CellReading>()
  readonly keptHere = new Map<string, unknown>()
  private readonly waiting: (() => void)[] = []

  visitID(plant: string, _: Day, purpose: string): VisitID {
    return `${purpose} ${plant}` as VisitID
  }

  cell(visit: VisitID, name: string): CellReading {
    return this.cells.get(`${visit} ${name}`) ?? { own: 0, total: 0, tips: [] }
  }

  visit(): undefined {}

  kept(name: string): unknown {
    return this.keptHere.get(name)
  }

  async keep(name: string, value: unknown): Promise<void> {
    this.keptHere.set(name, value)
  }

  recordInTurn(say: () => Said): Promise<void> {
    const { facts, alongside } = say()
    return new Promise((done) => this.waiting.push(() => {
      for (const { op, id, field, value } of facts) {
        if (op === 'count') this.cells.set(`${id} ${field}`, { own: Number(value), total: Number(value), tips: [] })
      }
      for (const [name, value] of Object.entries(alongside)) this.keptHere.set(name, value)
      done()
    }))
  }

  async diskAnswers(): Promise<void> {
    while (this.waiting.length > 0) {
      this.waiting.shift()?.()
      for (let i = 0; i < 9; i++) await Promise.resolve()
    }
  }

  stems(plant: PlantID): number {
    return this.cell(this.visitID(plant, day, 'cut'), '|0|0').total
  }
}

let book: SlowBook
let session: Session

beforeEach(() => {
  today.value = day
  book = new SlowBook()
  session = new Session(book as unknown as Notebook)
  session.open('bed' as BedID)
})

describe('a number at a plant', () => {
  it('counts once, however often it is tapped before it is stored', async () => {
    session.digit(a, 4)
    session.digit(a, 4)
    session.digit(a, 7)
    await book.diskAnswers()
    expect(book.stems(a)).toBe(4)
    expect(session.position.value?.at).toBe(b)
  })

  it('opens no two-digit entry while another is being stored', async () => {
    session.tens.value = 0
    session.digit(a, 1)
    session.digit(a, 2)
    session.digit(a, 2)
    await book.diskAnswers()
    expect(book.stems(a)).toBe(12)
    expect(session.tens.value).toBeUndefined()
  })

  it('adds to what the plant has, once the walk has come back to it', async () => {
    session.digit(a, 4)
    await book.diskAnswers()
    session.goTo(a)
    session.digit(a, 2)
    await book.diskAnswers()
    expect(book.stems(a)).toBe(6)
  })
})

it('keeps every action of batches that follow each other, and of a "nothing here" between them', async () => {
  session.stem(a, 'extra', untoldLength)
  void session.nothing(b)
  session.digit(a, 3)
  session.stem(b, 'first', untoldLength)
  await book.diskAnswers()
  const journal = book.kept('row.journal') as Journal
  expect(journal.actions).toEqual(session.journal.value?.actions)
  expect(journal.actions.map(({ kind, ...one }) => `${kind} ${'plant' in one ? one.plant : ''}`)).toEqual(['count a', 'nothing b', 'count a', 'count b'])
})

describe('taking back', () => {
  it('leaves the plant as it was', async () => {
    session.digit(a, 4)
    await book.diskAnswers()
    void session.takeBack()
    await book.diskAnswers()
    expect(book.stems(a)).toBe(0)
    expect(session.last()).toBeUndefined()
  })

  it('says so where the count was changed since, and goes on to the action before', async () => {
    session.digit(a, 4)
    await book.diskAnswers()
    session.digit(b, 5)
    await book.diskAnswers()
    book.cells.set('cut b |0|0', { own: 2, total: 2, tips: [] })
    await session.takeBack()
    expect(session.failure.value).toBeInstanceOf(ChangedSince)
    expect(session.last()).toMatchObject({ plant: a, stems: 4 })
    void session.takeBack()
    await book.diskAnswers()
    expect(session.failure.value).toBeUndefined()
    expect(book.stems(a)).toBe(0)
  })
})
