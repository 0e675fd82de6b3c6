import { describe, expect, it } from 'vitest'
import { cutList } from './cut_list'
import { cutPlan } from './cut_plan'
import { addDays } from './day'
import type { Day, Plant, PlantID, Visit } from './nouns'
import { parseLotCell } from './lots'
import type { ShrinkID } from './sale_nouns'
import { beds, cutVisit, day, type LineTold, packedWith, plantsIn, sellingFarm, type Told } from './testing/cutting'

const until = addDays(day, 2)
const yesterday = addDays(day, -1)

function of(told: Told) {
  const farm = sellingFarm(told)
  const plan = cutPlan(farm, day, until, beds)
  return { plan, list: cutList(farm, plan) }
}

/** "A ember 60 40 of 80": bed, colour, least length, still to cut of what was asked. */
function rows(told: Told): string[] {
  return of(told).list.rows.flatMap(({ bed, colour, parts }) => parts.map(({ want, stems, left }) =>
    `${bed} ${colour || '-'} ${[want.grade, want.length / 10 || ''].filter(Boolean).join(' ') || 'any'}: ${left} of ${stems}`))
}

const short = (told: Told) => of(told).plan.short.map(({ need, stems }) => `${need.colours.join()}: ${stems}`)
const standing = [...plantsIn('A', 'ember', 20), ...plantsIn('B', 'ember', 10), ...plantsIn('B', 'oyster', 10)]
const ember: LineTold = { stems: 10, bunches: 6, colours: 'ember' }
const bench = (told: string, stems: number, date: Day = yesterday, bed = date === day ? 'A' : 'C') => cutVisit('bench', bed, told, stems, date)

describe('what is to be cut', () => {
  it.each<[string, Told, string[]]>([
    ['nothing where nothing is due', { plants: standing }, []],
    ['is due today', { plants: standing, lines: [ember] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['is due the day after tomorrow', { plants: standing, lines: [{ ...ember, due: until }] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['is not due later', { plants: standing, lines: [{ ...ember, due: addDays(day, 3) }] }, []],
    ['was due yesterday and nothing of it was packed', { plants: standing, lines: [{ ...ember, due: yesterday }] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['was due a week ago and nothing of it was packed', { plants: standing, lines: [{ ...ember, due: addDays(day, -7) }] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['is not overdue by more than a week', { plants: standing, lines: [{ ...ember, due: addDays(day, -8) }] }, []],
    ['is not overdue by more than its stems keep', { plants: standing, lines: [{ ...ember, due: addDays(day, -4) }], terms: { coolerDays: 3 } }, []],
    ['did not go out short yesterday', { plants: standing, lines: [{ ...ember, due: yesterday }], packed: [packedWith('l0', 3, {}, yesterday)] }, []],
    ['is overdue and packed in part today', { plants: standing, lines: [{ ...ember, due: yesterday }], packed: [packedWith('l0', 3, {})] }, ['A ember any: 20 of 20', 'B ember any: 10 of 10']],
    ['overdue lines are served by what lies in the cooler today', { plants: standing, lines: [{ ...ember, due: addDays(day, -3) }], visits: [bench('ember first 50', 45)] }, ['A ember any: 10 of 10', 'B ember any: 5 of 5']],
    ['is not packed yet', { plants: standing, lines: [ember], packed: [packedWith('l0', 3, { [`A|${yesterday}|ember|first|400|500`]: 30 })] }, ['A ember any: 20 of 20', 'B ember any: 10 of 10']],
    ['was packed by bunches without lots', { plants: standing, lines: [ember], packed: [packedWith('l0', 3, {})] }, ['A ember any: 20 of 20', 'B ember any: 10 of 10']],
    ['was packed in full and more', { plants: standing, lines: [ember], packed: [packedWith('l0', 7, {})] }, []],
    ['is not in the cooler', { plants: standing, lines: [ember], visits: [bench('ember first 50', 45)] }, ['A ember any: 10 of 10', 'B ember any: 5 of 5']],
    ['what lies in the cooler too short is cut', { plants: standing, lines: [{ ...ember, cm: 50 }], visits: [bench('ember first 40', 60)] }, ['A ember 50: 40 of 40', 'B ember 50: 20 of 20']],
    ['or too poor', { plants: standing, lines: [{ ...ember, grade: 'first' }], visits: [bench('ember second 50', 60)] }, ['A ember first: 40 of 40', 'B ember first: 20 of 20']],
    ['or of a grade or length that nobody told', { plants: standing, lines: [{ ...ember, grade: 'second', cm: 40 }], visits: [bench('ember - -', 60)] }, ['A ember second 40: 40 of 40', 'B ember second 40: 20 of 20']],
    ['a better grade stands in', { plants: standing, lines: [{ ...ember, grade: 'second' }], visits: [bench('ember extra 50', 60)] }, []],
    ['past its vase life on the day of delivery', { plants: standing, lines: [{ ...ember, due: until }], terms: { coolerDays: 2 }, visits: [bench('ember first 50', 60)] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['but what may go today does', { plants: standing, lines: [ember], terms: { coolerDays: 2 }, visits: [bench('ember first 50', 60)] }, []],
    ['the cooler’s substitutes serve', { plants: standing, lines: [ember], accepts: { ember: 'coral' }, visits: [bench('coral first 50', 60)] }, []],
    ['not where the line is exact', { plants: standing, lines: [{ ...ember, exact: true }], accepts: { ember: 'coral' }, visits: [bench('coral first 50', 60)] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['no line is left short that the cooler could serve', { plants: standing, lines: [{ ...ember, cm: 0 }, { ...ember, cm: 50 }], visits: [bench('ember first 50', 60), bench('ember first 40', 60)] }, []],
    ['a substitute goes to who asked for it', { plants: standing, lines: [ember, { ...ember, colours: 'oyster' }], accepts: { ember: 'oyster' }, visits: [bench('oyster first 50', 60)] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['the cooler goes first to the line that no bed can help', { plants: standing, lines: [ember, { ...ember, colours: 'coral' }], accepts: { coral: 'damson', ember: 'damson' }, visits: [bench('damson first 50', 60)] }, ['A ember any: 40 of 40', 'B ember any: 20 of 20']],
    ['a little over, rounded up to whole stems', { plants: plantsIn('A', 'ember', 1), lines: [ember], terms: { overCut: 5 } }, ['A ember any: 63 of 63']],
    ['a part of a stem over is a stem', { plants: plantsIn('A', 'ember', 1), lines: [{ ...ember, bunches: 1 }], terms: { overCut: 1 } }, ['A ember any: 11 of 11']],
    ['lines that ask for the same are one number, others are parts', { plants: plantsIn('A', 'ember', 1), lines: [ember, { ...ember, cm: 60, grade: 'first' }, ember] }, ['A ember first 60: 60 of 60', 'A ember any: 120 of 120']],
    ['a mixed line is spread over its colours by what stands', { plants: standing, lines: [{ ...ember, colours: 'ember oyster' }] }, ['A ember any: 30 of 30', 'B ember any: 15 of 15', 'B oyster any: 15 of 15']],
    ['any colour also over plants whose colour nobody has seen', { plants: [...plantsIn('A', 'ember', 10), ...plantsIn('A', '-', 10)], lines: [{ ...ember, colours: '' }] }, ['A - any: 30 of 30', 'A ember any: 30 of 30']],
    ['few stems are asked of few beds', { plants: standing, lines: [{ stems: 8, colours: 'ember' }] }, ['A ember any: 8 of 8']],
    ['what is not asked for yet may stand in where nothing else stands', { plants: standing, lines: [{ ...ember, colours: 'coral' }], accepts: { coral: 'oyster' } }, ['B oyster any: 60 of 60']],
  ])('%s', (_, told, want) => expect(rows(told)).toEqual(want))

  it('names what no bed can give', () => {
    expect(short({ plants: standing, lines: [ember, { ...ember, colours: 'coral', cm: 60 }], visits: [bench('coral first 60', 25)] })).toEqual(['coral: 35'])
  })

  it('tells what is due, what of it is overdue, and what the cooler serves', () => {
    expect(of({ plants: standing, lines: [ember, { ...ember, due: yesterday }], visits: [bench('ember first 50', 45)] }).plan).toMatchObject({ due: 120, overdue: [{ order: 'o1', due: yesterday, stems: 60 }], cooler: 45 })
  })
})

describe('which bed', () => {
  const [a, b] = [plantsIn('A', 'ember', 10), plantsIn('B', 'ember', 10)]
  const cut = (bed: string, stems: number, ago: number) => cutVisit('bed_cut', bed, 'ember - -', stems, addDays(day, -ago))
  it.each<[string, Visit[], string[], boolean[]]>([
    ['by its plants where nothing is known', [], ['A 30', 'B 30'], [false, false]],
    ['by what it gave last', [cut('A', 40, 2), cut('B', 20, 3)], ['A 40', 'B 20'], [true, true]],
    ['by its last cut alone', [cut('A', 40, 2), cut('A', 400, 4), cut('B', 20, 3)], ['A 40', 'B 20'], [true, true]],
    ['by the other’s stems a plant where only that gave', [cut('A', 40, 2)], ['A 30', 'B 30'], [true, false]],
    ['not by what it gave more than two weeks ago', [cut('A', 40, 15)], ['A 30', 'B 30'], [false, false]],
    ['not by what was thrown away', [cutVisit('bench', 'A', 'ember out 50', 400, yesterday)], ['A 30', 'B 30'], [false, false]],
  ])('%s', (_, visits, want, known) => {
    const { list } = of({ plants: [...a, ...b], visits, lines: [ember], terms: { coolerDays: 1 } })
    expect(list.rows.map(({ bed, left }) => `${bed} ${left}`)).toEqual(want)
    expect(list.rows.map((row) => row.known)).toEqual(known)
  })
})

describe('as stems come in', () => {
  const plants: Plant[] = [...plantsIn('A', 'ember', 1), ...plantsIn('B', 'ember', 1), ...plantsIn('B', 'oyster', 1)]
  const plant = (id: string, told: string, stems: number) => cutVisit('cut', id.split(' ')[0]!, told, stems, day, { plant: id as PlantID })
  const mixed: LineTold = { stems: 60, colours: 'ember oyster' }
  const strict: LineTold = { stems: 20, colours: 'ember', grade: 'first', cm: 60 }
  it.each<[string, Told, string[]]>([
    ['a bed’s own count takes its number down', { lines: [ember], visits: [plant('A ember 1', '- - -', 12)] }, ['A ember any: 18 of 30', 'B ember any: 30 of 30']],
    ['more than its number lets another bed off', { lines: [ember], visits: [plant('A ember 1', '- - -', 42)] }, ['A ember any: 0 of 30', 'B ember any: 18 of 30']],
    ['what came over the bench is counted once', { lines: [ember], visits: [plant('A ember 1', '- - -', 12), bench('ember first 50', 10, day)] }, ['A ember any: 18 of 30', 'B ember any: 30 of 30']],
    ['what was thrown away on the bench is to be cut again', { lines: [ember], visits: [plant('A ember 1', '- - -', 12), bench('ember out 50', 4, day)] }, ['A ember any: 22 of 30', 'B ember any: 30 of 30']],
    ['what was told too short is to be cut', { lines: [strict], visits: [plant('A ember 1', '- first 50', 12)] }, ['A ember first 60: 10 of 10', 'B ember first 60: 10 of 10']],
    ['what nobody told counts as what was asked', { lines: [strict], visits: [plant('A ember 1', '- - -', 4)] }, ['A ember first 60: 6 of 10', 'B ember first 60: 10 of 10']],
    ['a mixed line takes any of its colours', { lines: [mixed], visits: [plant('B oyster 1', '- - -', 60)] }, ['A ember any: 0 of 20', 'B ember any: 0 of 20', 'B oyster any: 0 of 20']],
    ['another colour does not', { lines: [ember], visits: [plant('B oyster 1', '- - -', 60)] }, ['A ember any: 30 of 30', 'B ember any: 30 of 30']],
    ['packing what was cut today changes nothing', { lines: [ember], visits: [bench('ember first 50', 10, day)], packed: [packedWith('l0', 1, { [`A|${day}|ember|first|500|600`]: 10 })] }, ['A ember any: 20 of 30', 'B ember any: 30 of 30']],
    ['what is written off today is to be cut again', {
      lines: [ember], visits: [bench('ember first 50', 10, day)],
      shrink: [{ id: 's' as ShrinkID, lot: parseLotCell(`A|${day}|ember|first|500|600`)!, stems: 3, reason: 'broken', what: '', date: day, person: '' }],
    }, ['A ember any: 23 of 30', 'B ember any: 30 of 30']],
  ])('%s', (_, told, want) => expect(rows({ plants, ...told })).toEqual(want))

  it('says how many were cut of how many, and what was fit for nothing', () => {
    const { list } = of({ plants, lines: [strict], visits: [plant('A ember 1', '- - -', 13), plant('A ember 1', '- second 60', 5)] })
    expect(list.rows[0]).toMatchObject({ asked: 10, cut: 13, left: 0, unfit: 5 })
    expect(list.colours.get('ember' as never)).toEqual({ asked: 20, cut: 13, left: 7 })
  })
})
