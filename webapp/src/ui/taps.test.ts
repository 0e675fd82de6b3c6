import { describe, expect, it } from 'vitest'
import type { VisitID } from '../crop/nouns'
import type { Fact } from '../log/change'
import type { CellReading, Notebook, Said } from '../sync/notebook'
import { ChangedSince, OverTheMost, type Tap, TapQueue, type Telling } from './taps'

/** As much of a notebook as taps need: cells in memory, stored only when the test lets the disk answer. */
class SlowBook {
  readonly cells = new Map<string, CellReading>()
  readonly operations: (readonly Fact[])[] = []
  readonly keptAlongside: Readonly<Record<string, unknown>>[] = []
  private readonly waiting: { facts: readonly Fact[]; done: () => void; failed: (reason: unknown) => void }[] = []

  cell(visit: VisitID, name: string): CellReading {
    return this.cells.get(`${visit} ${name}`) ?? { own: 0, total: 0, tips: [] }
  }

  recordInTurn(say: () => Said): Promise<void> {
    const { facts, alongside } = say()
    if (facts.length === 0) return Promise.resolve()
    this.keptAlongside.push(alongside)
    return new Promise((done, failed) => this.waiting.push({ facts, done, failed }))
  }

  async diskAnswers(reason?: Error): Promise<void> {
    const next = this.waiting.shift()
    if (!next) throw new Error('nothing waits for the disk')
    if (reason) next.failed(reason)
    else this.store(next.facts, next.done)
    for (let i = 0; i < 5; i++) await Promise.resolve()
  }

  get idle(): boolean {
    return this.waiting.length === 0
  }

  private store(facts: readonly Fact[], done: () => void): void {
    this.operations.push(facts)
    for (const { id, field, value } of facts) {
      const own = Number(value)
      const before = this.cell(id as VisitID, field)
      this.cells.set(`${id} ${field}`, { own, total: before.total - before.own + own, tips: [] })
    }
    done()
  }
}

function tap(visit: string, cell: string, add: number): Tap {
  const fact = (value: number): Fact => ({ scope: 'field', op: 'count', type: 'visit', id: visit, field: cell, value })
  return { visit: visit as VisitID, cell, add, most: 999, before: () => [], count: fact }
}

function queueOver(book: SlowBook): TapQueue {
  return new TapQueue(book as unknown as Notebook)
}

describe('taps that wait for storage', () => {
  it('take what the device keeps into their own transaction, and only for those that count', async () => {
    const book = new SlowBook()
    const queue = new TapQueue(book as unknown as Notebook, (kept) => ({ added: kept.map(({ add }) => add) }))
    const first = queue.push(tap('v', 'extra', 3))
    const [second, over, third] = [1, 9999, 2].map((add) => queue.push(tap('v', 'extra', add)))
    await Promise.all([book.diskAnswers(), expect(over).rejects.toThrow(OverTheMost)])
    await book.diskAnswers()
    await Promise.all([first, second, third])
    expect(book.keptAlongside).toEqual([{ added: [3] }, { added: [1, 2] }])
  })

  it('all count, however slow the disk', async () => {
    const book = new SlowBook()
    const queue = queueOver(book)
    const taps = Array.from({ length: 200 }, () => queue.push(tap('v', 'extra', 1)))
    while (!book.idle) await book.diskAnswers()
    await Promise.all(taps)
    expect(book.cell('v' as VisitID, 'extra').total).toBe(200)
    expect(book.operations.length).toBe(2) // the first at once, the other 199 together
  })

  it('keep their order across plants and never share an operation between two', async () => {
    const book = new SlowBook()
    const queue = queueOver(book)
    const taps = [tap('a', 'x', 1), tap('b', 'x', 2), tap('b', 'y', 3), tap('a', 'x', 4)].map((one) => queue.push(one))
    while (!book.idle) await book.diskAnswers()
    await Promise.all(taps)
    expect(book.operations.map((facts) => facts.map(({ id, field, value }) => `${id}${field}${value}`)))
      .toEqual([['ax1'], ['bx2', 'by3'], ['ax5']])
  })

  it('leave the old number when the disk fails, and go on with the next', async () => {
    const book = new SlowBook()
    const queue = queueOver(book)
    const lost = queue.push(tap('v', 'x', 5))
    const kept = queue.push(tap('v', 'x', 2))
    const told = expect(lost).rejects.toThrow('disk full')
    await book.diskAnswers(new Error('disk full'))
    await book.diskAnswers()
    await told
    await kept
    expect(book.cell('v' as VisitID, 'x').total).toBe(2)
  })

  it('are told when their count cannot be read, and the line goes on', async () => {
    const book = new SlowBook()
    const queue = queueOver(book)
    const broken = { ...tap('v', 'x', 5), count: () => { throw new Error('no such cell') } }
    await expect(queue.push(broken)).rejects.toThrow('no such cell')
    const next = queue.push(tap('v', 'x', 2))
    await book.diskAnswers()
    await next
    expect(book.cell('v' as VisitID, 'x').total).toBe(2)
  })

  it('are refused past the most that a cell may hold, what other writers counted included', async () => {
    const book = new SlowBook()
    book.cells.set('v x', { own: 10, total: 995, tips: [] })
    const queue = queueOver(book)
    await expect(queue.push(tap('v', 'x', 5))).rejects.toBeInstanceOf(OverTheMost)
    const last = queue.push(tap('v', 'x', 4))
    await book.diskAnswers()
    await last
    expect(book.cell('v' as VisitID, 'x')).toEqual({ own: 14, total: 999, tips: [] })
  })

  it('take back what was counted, and no more than this phone wrote', async () => {
    const book = new SlowBook()
    book.cells.set('v x', { own: 4, total: 9, tips: [] })
    const queue = queueOver(book)
    const back = queue.push(tap('v', 'x', -4))
    await book.diskAnswers()
    await back
    expect(book.cell('v' as VisitID, 'x').total).toBe(5)
    await expect(queue.push(tap('v', 'x', -1))).rejects.toBeInstanceOf(ChangedSince)
  })

  it('are not taken back from a total that a correction has made smaller', async () => {
    const book = new SlowBook()
    book.cells.set('v x', { own: 4, total: 2, tips: ['i:1'] })
    await expect(queueOver(book).push(tap('v', 'x', -4))).rejects.toBeInstanceOf(ChangedSince)
  })

  it('tell that they are stored before what is kept with the next is asked for', async () => {
    const book = new SlowBook()
    const told: string[] = []
    const queue = new TapQueue(book as unknown as Notebook, () => ({ told: [...told] }))
    const pushed = ['a', 'b'].map((visit) => queue.push({ ...tap(visit, 'x', 1), stored: () => told.push(visit) }))
    while (!book.idle) await book.diskAnswers()
    await Promise.all(pushed)
    expect(book.keptAlongside).toEqual([{ told: [] }, { told: ['a'] }])
  })

  it('wait in one line with what is told without a number, which travels by itself', async () => {
    const book = new SlowBook()
    const queue = new TapQueue<Telling>(book as unknown as Notebook)
    const told: Telling = { visit: 'v' as VisitID, before: () => [tap('v', 'said', 0).count(1)] }
    const pushed = [tap('v', 'x', 1), tap('v', 'x', 1), told, told, tap('v', 'x', 1)].map((one) => queue.push(one))
    while (!book.idle) await book.diskAnswers()
    await Promise.all(pushed)
    expect(book.operations.map((facts) => facts.map(({ field }) => field).join())).toEqual(['x', 'x', 'said', 'said', 'x'])
    expect(book.cell('v' as VisitID, 'x').total).toBe(3)
  })
})
