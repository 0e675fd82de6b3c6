import { describe, expect, it } from 'vitest'
import { agesRows, csvOf } from './ages_csv'
import type { Report } from './ages_report'

const interval = { mean: 2, lo: 1, hi: 3 }
const report = {
  level: 0.9, prior: 'practice', notes: [],
  ages: [{
    age: 2, plant_seasons: 2, zero: 1, stems: { ...interval, size: 1, new_lo: 0, new_hi: 9 }, stems_total: 4, alive: 8, set_out: 10, cut_from: 1,
    beds: [{ bed: 'b', name: 'Gate "A"', season: 2026, alive: 8, ...interval }], grades: [], length_cm: { fall: { mean: 51.23456, lo: 50, hi: 52 } },
    plants: [{ plant: 'p', code: '=A1', season: 2026, stems: 4, open: false }],
  }],
  plants: [{ plant: 'p', code: '=A1', seasons: 1, times: interval, best_tenth: 0.25 }],
} as unknown as Report

describe('the file of Ages', () => {
  const text = csvOf(agesRows('Achillea', report, [{ name: 'Ana', stems: 7, mean: 0.1, lo: -0.2, hi: 0.3 }]))
  const lines = text.slice(1).trimEnd().split('\r\n')

  it('begins with the mark of UTF-8 and a header', () => {
    expect(text.charCodeAt(0)).toBe(0xfeff)
    expect(lines[0]).toBe('crop,what,season_in_the_ground,flush,grade,season,bed,plant,person,per_plant,estimate,low,high,unit,plants,stems')
  })

  it.each([
    ['the mean per each plant', '"Achillea","mean",2,"","","","","","","alive at start",2,1,3,"stems",8,4'],
    ['scaled by its share', '"Achillea","mean",2,"","","","","","","set out",1.6,0.8,2.4,"stems",10,4'],
    ['per plant cut from', '"Achillea","mean",2,"","","","","","","cut from",4,2,6,"stems",1,4'],
    ['a bed, its quotes doubled', '"Achillea","mean of a bed",2,"","",2026,"Gate ""A""","","","alive at start",2,1,3,"stems",8,""'],
    ['a length', '"Achillea","mean length",2,"fall","","","","","","",51.2346,50,52,"cm","",""'],
    ['a plant whose code looks like a formula, as a text', `"Achillea","counted plant",2,"","",2026,"","'=A1","","",4,"","","stems","",""`],
    ['a grader', '"Achillea","how a person grades","","","","","","","Ana","",0.1,-0.2,0.3,"logit","",7'],
  ])('holds %s', (_, line) => {
    expect(lines).toContain(line)
  })

  it('has as many fields in every row', () => {
    for (const line of lines.slice(1)) expect(line.match(/"(?:[^"]|"")*"|[^,"]+/g)).toHaveLength(16)
  })
})
