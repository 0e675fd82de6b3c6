// Readings kept on this device: each with its photo in one operation, and the last of the day can be taken back.

import { signal } from '@preact/signals'
import { v4 as newUUID } from 'uuid'
import { photoFacts, readingFacts, withdrawnFact } from '../crop/facts'
import type { Day, Lab, NewReading, PhotoHash, Plant, PlantID, Reading, ReadingID } from '../crop/nouns'
import type { Prepared } from '../photos/prepare'
import type { Photos } from '../photos/photos'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'
import { readingOf, type Taken, type Told } from './taken'

/** A reading that can still be taken back. */
export interface KeptReading {
  readonly id: ReadingID
  readonly plant: PlantID
  readonly lab: Lab
  readonly se: Lab
  /** The photo that was put to the plant with it; '' where none was, or the plant had it before. */
  readonly photo: PhotoHash | ''
}

interface Journal {
  readonly day: Day
  readonly kept: readonly KeptReading[]
}

const kept = 'measuring.kept'
/** As far back as anybody remembers a slip. */
const longest = 30

const readingsOf = new WeakMap<Notebook, Readings>()

export class Readings {
  /** Why the last was not kept or not taken back; undefined once one was. */
  readonly failure = signal<unknown>(undefined)
  private readonly journal = signal<Journal | undefined>(undefined)
  private busy = false

  constructor(private readonly notebook: Notebook) {
    this.journal.value = notebook.kept<Journal>(kept)
  }

  /** The one of a notebook. */
  static of(notebook: Notebook): Readings {
    const known = readingsOf.get(notebook) ?? new Readings(notebook)
    readingsOf.set(notebook, known)
    return known
  }

  /** The one that `takeBack` would take back now: one that was withdrawn on its plant's page, or by another, is passed over. */
  last(): KeptReading | undefined {
    const { readings } = this.notebook.farm.value
    const journal = this.journal.value
    return journal?.day === today.value ? journal.kept.findLast(({ id }) => readings.has(id)) : undefined
  }

  /**
   * Stores what was measured, and with it the photo where there are bytes to keep. Resolves to the reading as it stands once
   * both are on disk; rejects with a PhotoProblem or a RecordError, and then no change names anything of it.
   */
  async keep(photos: Pick<Photos, 'bring'>, plant: Plant, taken: Taken, told: Told, prepared: Prepared | undefined): Promise<Reading> {
    const brought = prepared && (await photos.bring(plant.id, prepared))
    let reading: NewReading | undefined
    let journal: Journal | undefined
    await this.notebook.recordInTurn(() => {
      reading = readingOf(taken, {
        ...told, id: newUUID() as ReadingID, plant: plant.id, today: today.peek(), person: this.notebook.person.peek(), photo: brought?.hash ?? '',
      })
      if (!reading) throw new Error('keeping a reading: the photo was refused')
      const photo = brought?.isNew ? brought.hash : ''
      journal = this.with({ id: reading.id, plant: plant.id, lab: reading.lab, se: reading.se, photo })
      return { facts: [...readingFacts(reading), ...(photo === '' ? [] : photoFacts(plant.id, photo, true))], alongside: { [kept]: journal } }
    })
    this.journal.value = journal
    this.failure.value = undefined
    const stands = reading && this.notebook.farm.peek().readings.get(reading.id)
    if (!stands) throw new Error('keeping a reading: it was stored and does not stand')
    return stands
  }

  /** Withdraws the last, and takes the photo away that came with it. Resolves to what was taken back. */
  async takeBack(): Promise<KeptReading | undefined> {
    const last = this.last()
    if (!last || this.busy) return undefined
    this.busy = true
    try {
      const journal = this.without(last.id)
      await this.notebook.recordInTurn(() => ({
        facts: [withdrawnFact('reading', last.id, true), ...(last.photo === '' ? [] : photoFacts(last.plant, last.photo, false))],
        alongside: { [kept]: journal },
      }))
      this.journal.value = journal
      this.failure.value = undefined
      return last
    } catch (reason) {
      this.failure.value = reason
      return undefined
    } finally {
      this.busy = false
    }
  }

  private with(reading: KeptReading): Journal {
    const day = today.peek()
    const before = this.journal.peek()
    return { day, kept: [...(before?.day === day ? before.kept : []), reading].slice(-longest) }
  }

  private without(id: ReadingID): Journal {
    const { day, kept: all } = this.journal.peek() ?? { day: today.peek(), kept: [] }
    return { day, kept: all.filter((one) => one.id !== id) }
  }
}
