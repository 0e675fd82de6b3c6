// What people do on the phones of a seed: counts in visits, corrections, fields, sets, now and then an
// operation larger than a frame, and now and then a number that the shed will not take.

import { correctFact, countFact, visitFacts } from '../src/crop/facts'
import type { BedID, Day, PersonID, PlantID, VisitID } from '../src/crop/nouns'
import type { Fact } from '../src/log/change'
import { Ledger, type Seen } from './ledger'
import type { Phone } from './phone'
import type { Random } from './random'

const day = '2026-05-28' as Day
const plants = 6
const cells = ['|0|0', 'extra|500|600', 'first|400|500', 'second|300|400'] as const
/** A frame holds 2,000 changes. */
const largeOperation = 2_500
/** The most stems that a plant's cell may hold is 999. */
const tooMany = 1_000

export class Worker {
  readonly ledger = new Ledger()
  private made = 0

  constructor(
    private readonly seed: number,
    readonly phone: Phone,
    private readonly random: Random,
  ) {}

  /** Does one thing and waits until it is stored or not. */
  async work(): Promise<void> {
    const { random } = this
    const turn = random.next()
    if (turn < 0.5) await this.count()
    else if (turn < 0.65) await this.correct()
    else if (turn < 0.8) await this.name()
    else if (turn < 0.95) await this.add(random.between(1, 3))
    else if (turn < 0.97) await this.countTooMany()
    else await this.seen(this.phone.notebook.unsentFile()) // frames everything
  }

  /** An operation that is sent in parts. */
  async workLarge(): Promise<void> {
    await this.add(largeOperation)
  }

  private get plant(): PlantID {
    return `s${this.seed} plant ${this.random.between(1, plants)}` as PlantID
  }

  private visit(plant: PlantID): VisitID {
    return this.phone.notebook.visitID(plant, day, 'cut')
  }

  private async count(): Promise<void> {
    const { random } = this
    const plant = this.plant
    const [id, cell, n] = [this.visit(plant), random.pick(cells), random.between(0, 40)]
    this.ledger.counted(id, cell, n, await this.record([...this.visitFacts(plant, id), countFact('field', id, cell, n)]))
  }

  /** Of any visit that the phone knows, its own or another's. */
  private async correct(): Promise<void> {
    const { notebook } = this.phone
    const visits = [...notebook.farm.value.visitsOf.get(this.plant) ?? []]
    if (visits.length === 0) return this.count()
    const [id, cell] = [this.random.pick(visits), this.random.pick(cells)]
    const { total, tips } = notebook.cell(id, cell)
    const by = this.random.between(-20, 20)
    this.ledger.corrected(`visit/${id}`, cell, by, total, await this.record([correctFact('field', id, cell, by, total, tips)]))
  }

  private async name(): Promise<void> {
    const id = `s${this.seed} bed ${this.random.between(1, 2)}` as BedID
    const name = `${this.phone.name} ${++this.made}`
    await this.record([{ scope: 'field', op: 'set', type: 'bed', id, field: 'name', value: name }])
  }

  /** Elements of a set, each of its own; half of the large operations have more elements of lists than a frame. */
  private async add(n: number): Promise<void> {
    const extra = n > 1 && this.random.chance(0.5) ? { beside: Array<string>(40).fill('a') } : {}
    const id = this.plant
    const elements = Array.from({ length: n }, () => `${this.phone.name} parent ${++this.made}`)
    const seen = await this.record(elements.map((value): Fact => ({ scope: 'field', op: 'add', type: 'plant', id, field: 'parents', value, extra })))
    for (const element of elements) this.ledger.added(`plant/${id}`, element, 'parents', seen)
  }

  /** At a plant of its own, which nobody corrects. */
  private async countTooMany(): Promise<void> {
    const plant = `s${this.seed} plant of ${this.phone.name} ${++this.made}` as PlantID
    const id = this.visit(plant)
    const seen = await this.record([...this.visitFacts(plant, id), countFact('field', id, '|0|0', tooMany)])
    this.ledger.refused.set(id, seen)
  }

  private visitFacts(plant: PlantID, id: VisitID): Fact[] {
    return visitFacts({
      id, plant, bed: `s${this.seed} bed 1` as BedID, date: day, purpose: 'cut', person: this.phone.name as PersonID,
      flush: 'spring', toOrder: false, planting: '', age: 0, stage: '', counts: [],
    })
  }

  private record(facts: readonly Fact[]): Promise<Seen> {
    return this.seen(this.phone.notebook.record(facts))
  }

  private seen(doing: Promise<unknown>): Promise<Seen> {
    const done = doing.then((): Seen => 'stored', (): Seen => 'not_stored')
    return Promise.race([done, this.phone.gone.then((): Seen => 'unknown')])
  }
}
