import { describe, expect, it } from 'vitest'
import type { BedID, ColourID, Count, Day, Grade, PlantID, PlantingID, Season, Visit, VisitID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, visitWith } from '../crop/testing/nouns'
import { benchVisits } from './bench'
import { reconciled } from './bench_row'

const day = '2026-06-03' as Day
const [old, young] = ['old', 'young'] as [PlantingID, PlantingID]

/** "extra 5", "rosehip first 7", "rosehip 12" or "5": stems of a colour class and grade. */
function counted(...texts: readonly string[]): Count[] {
  return texts.map((text) => {
    const words = text.split(' ')
    const stems = Number(words.pop())
    const grade = (words.find((word) => ['extra', 'first', 'second', 'out'].includes(word)) ?? '') as Grade | ''
    return { colour: (words.find((word) => word !== grade) ?? '') as ColourID | '', grade, length: untoldLength, stems }
  })
}

type Told = readonly [purpose: Visit['purpose'], counts: readonly string[], more?: Partial<Visit>]

function farmOf(told: readonly Told[]) {
  return farmWith({
    beds: [bedWith({ name: 'Bed 1' }), bedWith({ id: 'b2' as BedID, name: 'Bed 2' })],
    plantings: [plantingWith({ id: old, firstSeason: 2024 as Season }), plantingWith({ id: young })],
    plants: [
      plantWith({ id: 'p' as PlantID, planting: old, colour: 'rosehip' as ColourID }),
      plantWith({ id: 'q' as PlantID, planting: young }),
    ],
    visits: told.map(([purpose, counts, more], i) => visitWith({
      id: `v${i}` as VisitID, purpose, date: day, bed: 'b' as BedID, counts: counted(...counts), ...more,
    })),
  })
}

const atP = { plant: 'p' as PlantID }
const atQ = { plant: 'q' as PlantID }

describe('row and bench', () => {
  const cases: [string, readonly Told[], readonly object[]][] = [
    ['are compared as wholes where a bed cut was counted', [['bed_cut', ['212']], ['bench', ['206']]],
      [{ row: 212, bench: 206, compared: 'whole' }]],
    ['take counted plants for a part of the bed cut', [['bed_cut', ['212']], ['cut', ['30'], atP], ['bench', ['206']]],
      [{ row: 212, bench: 206, compared: 'whole' }]],
    ['add what several cut and bench', [['bed_cut', ['100']], ['bed_cut', ['12'], { person: 'x' as never }], ['bench', ['60']], ['bench', ['50']]],
      [{ row: 112, bench: 110, compared: 'whole' }]],
    ['are at least what the plants gave where nothing else was counted', [['cut', ['4'], atP], ['cut', ['5'], atQ], ['bench', ['206']]],
      [{ row: 9, bench: 206, compared: 'row_part' }]],
    ['are told where nothing came over the bench yet', [['bed_cut', ['212']]], [{ row: 212, bench: 0, compared: 'whole' }]],
    ['are told of plants where nothing came over the bench yet', [['cut', ['4'], atP]], [{ row: 4, bench: 0, compared: 'row_part' }]],
    ['say nothing where nothing was counted in the row', [['bench', ['206']]], []],
    ['leave out counts of none', [['bed_cut', []], ['bench', ['206']]], []],
    ['of one planting’s total take its plants alone', [['cut', ['4'], atP], ['cut', ['5'], atQ], ['bench', ['50'], { planting: old }]],
      [{ row: 4, bench: 50, compared: 'row_part' }]],
    ['of one age’s total take its plants alone', [['cut', ['4'], atP], ['cut', ['5'], atQ], ['bench', ['50'], { age: 3 }]],
      [{ row: 4, bench: 50, compared: 'row_part' }]],
    ['of one planting on both sides are wholes', [['bed_cut', ['60'], { planting: old }], ['cut', ['5'], atQ], ['bench', ['50'], { planting: old }]],
      [{ row: 60, bench: 50, compared: 'whole' }]],
    ['have a part in the row where one planting was cut and the bed benched',
      [['bed_cut', ['60'], { planting: old }], ['cut', ['5'], atQ], ['bench', ['206']]], [{ row: 65, bench: 206, compared: 'row_part' }]],
    ['have a part on the bench where the bed was cut and one planting benched', [['bed_cut', ['212']], ['bench', ['50'], { planting: old }]],
      [{ row: 212, bench: 50, compared: 'bench_part' }]],
    ['of different plantings are not compared', [['bed_cut', ['60'], { planting: old }], ['bench', ['50'], { planting: young }]], []],
    ['of another day say nothing', [['bed_cut', ['60'], { date: '2026-06-02' as Day }], ['bench', ['50']]], []],
    ['keep standing stems out', [['standing', ['60'], atP], ['bench', ['50']]], []],
    ['come bed by bed', [['bed_cut', ['7'], { bed: 'b2' as BedID }], ['bed_cut', ['5']], ['bench', ['5']]],
      [{ bed: 'b', row: 5, bench: 5 }, { bed: 'b2', row: 7, bench: 0 }]],
    ['find a plant’s bed where its visit does not tell it', [['cut', ['4'], { ...atP, bed: '' }]], [{ bed: 'b', row: 4 }]],
  ]
  it.each(cases)('%s', (_, told, expected) => {
    const found = reconciled(farmOf(told), day)
    expect(found).toHaveLength(expected.length)
    expect(found).toMatchObject(expected)
  })
})

it('a day is reconciled without a look at the visits of any other', () => {
  const farm = farmOf([['bed_cut', ['60']], ['bench', ['60']]])
  farm.visits.values = () => { throw new Error('every visit of the farm was read') }
  expect(reconciled(farm, day)).toMatchObject([{ row: 60, bench: 60 }])
  expect(benchVisits(farm, day)).toHaveLength(1)
})

describe('row and bench by colour class and grade', () => {
  const cases: [string, readonly Told[], object][] = [
    ['stand side by side where both were told, the untold last among grades',
      [['bed_cut', ['rosehip extra 5', 'moonlight first 7', '2']], ['bench', ['rosehip extra 4', 'moonlight second 7']]],
      {
        colours: [{ of: 'rosehip', row: 5, bench: 4 }, { of: 'moonlight', row: 7, bench: 7 }, { of: '', row: 2, bench: 0 }],
        grades: [{ of: 'extra', row: 5, bench: 4 }, { of: 'first', row: 7, bench: 0 }, { of: 'second', row: 0, bench: 7 }, { of: '', row: 2, bench: 0 }],
      }],
    ['are left out where one side told none', [['bed_cut', ['12']], ['bench', ['rosehip extra 11']]], { colours: [], grades: [] }],
    ['know a plant’s stems by its colour class', [['cut', ['extra 4'], atP], ['bench', ['rosehip extra 9']]],
      { colours: [{ of: 'rosehip', row: 4, bench: 9 }], grades: [{ of: 'extra', row: 4, bench: 9 }] }],
    ['add lengths of one grade', [['bed_cut', ['extra 4', 'extra 5']], ['bench', ['extra 9']]], { grades: [{ of: 'extra', row: 9, bench: 9 }] }],
  ]
  it.each(cases)('%s', (_, told, expected) => {
    expect(reconciled(farmOf(told), day)[0]).toMatchObject(expected)
  })
})
