import { expect, describe, it } from 'vitest'
import type { BedID, Day, Farm, PlantID, StockID, VisitID } from '../crop/nouns'
import { tagCode } from '../crop/tag_code'
import { bedWith, farmWith, plantingWith, plantWith, stockWith, visitWith } from '../crop/testing/nouns'
import type { Notebook, Said } from '../sync/notebook'
import { type PlantedLately, undoable } from './lately'
import { NotPlanted, plantTray } from './plant_tray'
import { freshTray, readTray, type TrayForm } from './tray'

const today = '2026-05-20' as Day
const bed = bedWith({ lines: 1 })
const stock = stockWith()
const ids = ['new stock', 'new bed'] as unknown as readonly [StockID, BedID]

/** A notebook whose farm may have become another when the tray's turn comes, with so many codes of a block left. */
class Book {
  said: Said | undefined
  readonly farm
  constructor(farm: Farm, private readonly left: number) {
    this.farm = { peek: () => farm }
  }
  writer() { return 'me' }
  kept() { return { writer: 'me', blocks: [{ block: 3, next: 256 - this.left }] } }
  async recordInTurn(say: () => Said) { this.said = say() }
}

function newIDs(): () => string {
  let n = 0
  return () => `id${n++}`
}

async function planted(told: Partial<TrayForm>, shownOf: Farm, then: Farm, left = 256): Promise<Book> {
  const form = { ...freshTray(shownOf, bed.id, today, ids, 'Bed 9'), plants: '2', ...told }
  const book = new Book(then, left)
  await plantTray(book as unknown as Notebook, form, readTray(form, shownOf, today), today, newIDs())
  return book
}

describe('planting what is shown', () => {
  const farm = farmWith({ beds: [bed], stocks: [stock] })

  it('keeps the codes’ block and what can be undone with the facts', async () => {
    const { said } = await planted({}, farm, farm)
    expect(said?.facts.filter(({ field }) => field === 'code').map(({ value }) => value)).toEqual([tagCode(3, 0), tagCode(3, 1)])
    expect(said?.alongside).toEqual({
      codes: { writer: 'me', blocks: [{ block: 3, next: 2 }] },
      'beds.planted': { planting: 'id0', plants: 2, day: today, newBed: '', newStock: '' },
    })
  })

  it('remembers which bed and stock were made for it', async () => {
    const { said } = await planted({ bed: 'new bed' as BedID, stock: 'new stock' as StockID, stockForm: { name: 'N', species: '', origin: '', protected: false } }, farm, farm)
    expect(said?.alongside['beds.planted']).toMatchObject({ newBed: 'new bed', newStock: 'new stock' })
  })

  const crowded = farmWith({ beds: [bed], stocks: [stock], plantings: [plantingWith()], plants: [plantWith({ line: 1, number: 1 })] })
  it.each([
    ['a plant stands now where one was shown to come', crowded, 256, 'changed'],
    ['the bed is gone', farmWith({ stocks: [stock] }), 256, 'changed'],
    ['one code is missing', farm, 1, 'codes'],
  ])('says nothing where %s', async (_, then, left, reason) => {
    const failed = await planted({}, farm, then, left).catch((cause: unknown) => cause)
    expect(failed).toBeInstanceOf(NotPlanted)
    expect((failed as NotPlanted).reason).toBe(reason)
  })
})

describe('a planting', () => {
  const plants = [plantWith({ id: 'a' as PlantID }), plantWith({ id: 'b' as PlantID })]
  const told: PlantedLately = { planting: 'g' as PlantedLately['planting'], plants: 2, day: today, newBed: '', newStock: '' }
  const [one] = plants
  it.each([
    ['can be undone on its day', farmWith({ plants }), today, true],
    ['cannot a day later', farmWith({ plants }), '2026-05-21' as Day, false],
    ['cannot once a plant of it was visited', farmWith({ plants, visits: [visitWith({ id: 'v' as VisitID, plant: 'b' as PlantID })] }), today, false],
    ['cannot once a plant came to it', farmWith({ plants: [...plants, plantWith({ id: 'c' as PlantID })] }), today, false],
    ['cannot once one of its plants is not known here', farmWith({ plants: one ? [one] : [] }), today, false],
  ])('%s', (_, farm, day, can) => {
    expect(undoable(farm, told, day)).toBe(can)
  })
})
