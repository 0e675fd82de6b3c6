import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { countedOnce, stemsIn } from './bed_day'
import { stemsOfDay } from './day_stems'
import type { ColourID, PlantID, Purpose, Season, Visit } from './nouns'
import { countOf, cutVisit, day, plantsIn, sellingFarm } from './testing/cutting'

const plants = [...plantsIn('A', 'ember', 3), ...plantsIn('A', 'oyster', 3), ...plantsIn('A', '-', 1), ...plantsIn('B', 'ember', 1)]
const plant = (id: string, told: string, stems: number) => cutVisit('cut', id.split(' ')[0]!, told, stems, day, { plant: id as PlantID })
const told = (visits: readonly Visit[]) => stemsOfDay(sellingFarm({ plants, visits }), day)
  .map(({ bed, colour, grade, length, stems, benched }) => `${bed} ${colour || '-'} ${grade || '-'} ${length.hi === 0 ? '-' : length.lo / 10}: ${stems}${benched ? ' benched' : ''}`).sort()

describe('each stem of a day is counted once while the day goes on', () => {
  it.each<[string, Visit[], string[]]>([
    ['nothing was cut', [], []],
    ['plants’ stems are of their own colour classes', [plant('A ember 1', '- - -', 4), plant('A ember 2', '- - -', 2), plant('A - 1', '- - -', 3)], ['A - - -: 3', 'A ember - -: 6']],
    ['a bucket on the bench takes as many from the row', [plant('A ember 1', '- - -', 40), cutVisit('bench', 'A', 'ember first 50', 10)], ['A ember - -: 30', 'A ember first 50: 10 benched']],
    ['a bench that holds more stands alone', [plant('A ember 1', '- - -', 40), cutVisit('bench', 'A', 'ember first 50', 60)], ['A ember first 50: 60 benched']],
    ['counted plants are part of a bed cut', [plant('A ember 1', '- - -', 4), cutVisit('bed_cut', 'A', 'ember - -', 30)], ['A ember - -: 30']],
    ['a bucket of one colour takes none of another', [plant('A ember 1', '- - -', 9), cutVisit('bench', 'A', 'oyster first 50', 9)], ['A ember - -: 9', 'A oyster first 50: 9 benched']],
    ['the very same cell goes first', [plant('A ember 1', '- first 60', 5), plant('A ember 2', '- second 40', 5), cutVisit('bench', 'A', 'ember first 60', 5)], ['A ember first 60: 5 benched', 'A ember second 40: 5']],
    ['then what was told least of', [plant('A ember 1', '- - -', 5), plant('A ember 2', '- second 40', 5), cutVisit('bench', 'A', 'ember first 60', 5)], ['A ember first 60: 5 benched', 'A ember second 40: 5']],
    ['a bucket of untold colour leaves the colours to the row', [plant('A ember 1', '- - -', 5), cutVisit('bench', 'A', '- first 60', 8)], ['A - first 60: 3 benched', 'A ember - -: 5']],
    ['a bucket tells the colour that the row did not', [plant('A - 1', '- - -', 5), cutVisit('bench', 'A', 'ember first 60', 3)], ['A - - -: 2', 'A ember first 60: 3 benched']],
    ['what was thrown away on the bench was counted in the row', [plant('A ember 1', '- - -', 10), cutVisit('bench', 'A', 'ember out 60', 4)], ['A ember - -: 6', 'A ember out 60: 4 benched']],
    ['another bed’s total takes nothing', [plant('A ember 1', '- - -', 4), cutVisit('bench', 'B', 'ember first 50', 9)], ['A ember - -: 4', 'B ember first 50: 9 benched']],
    ['a planting’s total takes nothing of another’s', [plant('A ember 1', '- - -', 4), cutVisit('bench', 'A', 'ember first 50', 9, day, { planting: 'B' as Visit['planting'] })], ['A ember - -: 4', 'A ember first 50: 9 benched']],
    ['what stands and what is not there is no stem', [cutVisit('standing', 'A', 'ember - -', 4), cutVisit('nothing', 'A', 'ember - -', 0)], []],
  ])('%s', (_, visits, want) => expect(told(visits)).toEqual(want))
})

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
it(`once the totals hold at least what was counted before, it is what countedOnce keeps (seed ${seed})`, () => {
  const random = new Random(seed)
  for (let run = 0; run < 300; run++) {
    const colours = ['ember', 'oyster'] as const
    const visits: Visit[] = plants.filter(({ colour }) => colour !== '' && random.chance(0.7)).map(({ id }) => plant(id, '- - -', random.between(1, 5)))
    for (const purpose of ['bed_cut', 'bench'] satisfies Purpose[]) {
      for (const bed of ['A', 'B'].filter(() => random.chance(0.6))) {
        const before = (colour: string) => Math.max(...(['cut', 'bed_cut'] as const).map((of) => visits.filter((one) => one.purpose === of && one.bed === bed)
          .reduce((sum, one) => sum + one.counts.reduce((n, count) => n + ((one.plant === '' ? count.colour : one.plant.split(' ')[1]) === colour ? count.stems : 0), 0), 0)))
        visits.push(cutVisit(purpose, bed, '', 0, day, { counts: colours.map((colour) => countOf(`${colour} first 50`, before(colour) + random.between(0, 3))) }))
      }
    }
    const farm = sellingFarm({ plants, visits })
    const once = ['A', 'B'].flatMap((bed) => countedOnce(farm, 2026 as Season, visits.filter((one) => one.bed === bed)))
    expect(stemsOfDay(farm, day).reduce((sum, { stems }) => sum + stems, 0)).toBe(once.reduce((sum, visit) => sum + stemsIn(visit), 0))
    for (const colour of colours) {
      const stems = stemsOfDay(farm, day).reduce((sum, one) => sum + (one.colour === colour as string as ColourID ? one.stems : 0), 0)
      const kept = once.flatMap((one) => one.counts.map((count) => ({ ...count, colour: one.plant === '' ? count.colour : farm.plants.get(one.plant)!.colour })))
      expect(stems).toBe(kept.reduce((sum, one) => sum + (one.colour === colour as string as ColourID ? one.stems : 0), 0))
    }
  }
})
