import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { bedFacts, codeFacts, noParentFacts, placeFacts, plantFacts, plantingFacts, removedFacts, standFacts, stockFacts, visitFacts, withdrawnFact } from './facts'
import { LiveFarm } from './live'
import { plantLooks, PlantLooks } from './looks'
import type { BedID, Day, Place, Plant, PlantID, PlaceSince, PlantingID, Season, StockID, VisitID } from './nouns'
import { bedWith, farmWith, plantingWith, plantWith, stockWith, visitWith } from './testing/nouns'
import { farmID, stateSaid } from './testing/said'

const plant = (id: string, told: Partial<Plant> = {}) => plantWith({ id: id as PlantID, code: id, ...told })
const moved = (line: number, number: number, name: string, bed = 'b'): PlaceSince => ({ bed: bed as BedID, line, number, since: '2026-05-04' as Day, move: name })
const at = (place: Place): Pick<Plant, 'bed' | 'line' | 'number'> => ({ bed: place.bed, line: place.line, number: place.number })
const gone = '2026-05-01' as Day

describe('what needs a look of plants', () => {
  const cases: [string, Parameters<typeof farmWith>[0], [string, string[]][]][] = [
    ['nothing where each stands by itself', { plants: [plant('a', { line: 1, number: 1 }), plant('c', { line: 1, number: 2 })] }, []],
    ['plants that stand in one place, once for all of them', { plants: ['c', 'a', 'd'].map((id) => plant(id, { line: 1, number: 1 })) }, [['shared_place', ['a', 'c', 'd']]]],
    ['no two plants of which one is gone', { plants: [plant('a', { line: 1, number: 1 }), plant('c', { line: 1, number: 1, removed: gone })] }, []],
    ['no two plants in different beds', { plants: [plant('a', { line: 1, number: 1 }), plant('c', { line: 1, number: 1, bed: 'b2' as BedID })] }, []],
    ['no plants without a place', { plants: [plant('a'), plant('c')] }, []],
    ['a plant that was moved onto another', { plants: [plant('a', { line: 1, number: 1 }), plant('c', { ...at(moved(1, 1, 'm')), places: [moved(1, 1, 'm')] })] }, [['shared_place', ['a', 'c']]]],
    ['a plant in two places', { plants: [plant('a', { places: [moved(1, 1, 'm'), moved(1, 2, 'n')] })] }, [['two_places', ['a']]]],
    ['no plant that two moves took to one place', { plants: [plant('a', { places: [moved(1, 1, 'm'), moved(1, 1, 'n')] })] }, []],
    ['no plant in two places that is gone', { plants: [plant('a', { removed: gone, places: [moved(1, 1, 'm'), moved(1, 2, 'n')] })] }, []],
    ['tags that say the same, however they are written', { plants: [plant('a', { code: 'R4K 7MC' }), plant('c', { code: 'r4k-7mc' })] }, [['same_code', ['a', 'c']]]],
    ['no plants without a code', { plants: [plant('a', { code: '' }), plant('c', { code: '' })] }, []],
    ['plants among their own ancestors', { plants: [plant('a', { parents: ['c' as PlantID] }), plant('c', { parents: ['a' as PlantID] }), plant('d', { parents: ['a' as PlantID] })] }, [['own_ancestor', ['a']], ['own_ancestor', ['c']]]],
    ['visits to a plant that was withdrawn', { gone: { plants: [plant('a'), plant('c')] }, visits: [visitWith({ plant: 'a' as PlantID })] }, [['counted_withdrawn', ['a']]]],
    ['plants of a planting that was withdrawn', { plantings: [], gone: { plantings: [plantingWith()] }, plants: [plant('c'), plant('a')] }, [['no_planting', ['a', 'c']]]],
    ['plants of a stock that was withdrawn', { stocks: [], gone: { stocks: [stockWith()] }, plants: [plant('a')] }, [['no_planting', ['a']]]],
    ['plants in a bed that was taken away', { gone: { beds: [bedWith()] }, plants: [plant('c'), plant('a'), plant('gone', { removed: gone }), plant('other', { bed: 'b2' as BedID })] }, [['no_bed', ['a', 'c']]]],
    ['plants that were moved into a bed that was taken away', { gone: { beds: [bedWith({ id: 'b2' as BedID })] }, plants: [plant('c'), plant('other', { bed: 'b2' as BedID })] }, [['no_bed', ['other']]]],
    ['no plant whose planting has not come here yet', { plants: [plant('a', { planting: 'later' as PlantingID })] }, []],
  ]
  it.each(cases)('is %s', (_, nouns, looks) => {
    const farm = farmWith({ plantings: [plantingWith()], stocks: [stockWith({ id: 's' as StockID })], ...nouns })
    expect(plantLooks(farm).map(({ kind, plants }) => [kind, plants])).toEqual(looks)
  })
})

describe('what needs a look, kept up to date change by change', () => {
  const ids = ['a', 'b', 'c', 'd'] as PlantID[]
  const id = fc.constantFrom(...ids)
  const place = fc.tuple(fc.integer({ min: 1, max: 2 }), fc.integer({ min: 1, max: 2 }), fc.constantFrom('b', 'b2'), fc.constantFrom('m', 'n'))
    .map(([line, number, bed, name]) => moved(line, number, name, bed))
  const withdrawable = fc.constantFrom<readonly ['plant' | 'visit' | 'planting' | 'stock' | 'bed', string]>(
    ...ids.map((p) => ['plant', p] as const), ...ids.map((p) => ['visit', `v${p}`] as const), ['planting', 'g'], ['stock', 's'], ['bed', 'b'], ['bed', 'b2'],
  )
  const step: fc.Arbitrary<Fact[]> = fc.oneof(
    fc.tuple(id, place, fc.boolean()).map(([p, to, on]) => (on ? placeFacts(p, [], [to]) : placeFacts(p, [to], []))),
    fc.tuple(id, fc.constantFrom('K', 'L')).map(([p, code]) => codeFacts(p, code)),
    fc.tuple(id, fc.constantFrom<Day | ''>(gone, '')).map(([p, day]) => removedFacts(p, day)),
    fc.tuple(id, id).map(([p, of]): Fact[] => [{ scope: 'field', op: 'add', type: 'plant', id: p, field: 'parents', value: of }]),
    fc.tuple(id, id).map(([p, of]) => noParentFacts(p, of)),
    id.map((p) => standFacts(p, 2026 as Season, { day: gone, what: 'weak' })),
    id.map((p) => visitFacts(visitWith({ id: `v${p}` as VisitID, plant: p, date: gone }))),
    fc.tuple(withdrawable, fc.boolean()).map(([[type, one], on]) => [withdrawnFact(type, one, on)]),
  )
  const ground = [
    ...bedFacts(bedWith()), ...bedFacts(bedWith({ id: 'b2' as BedID })), ...stockFacts(stockWith()), ...plantingFacts(plantingWith()),
    ...ids.flatMap((p, i) => plantFacts(plant(p, { line: 1, number: i + 1 }))),
  ]

  it('is what a look at every plant finds', () => {
    fc.assert(fc.property(fc.array(step, { maxLength: 25 }), (steps) => {
      const live = new LiveFarm(farmID)
      const said: Fact[][] = [ground]
      live.replace(stateSaid(...said))
      for (const facts of steps) {
        said.push(facts)
        const { type = '', id: of = '' } = facts[0] ?? {}
        live.update([[{ type, id: of }, stateSaid(...said).entity(type, of)]])
        expect(live.farm.peek().plantLooks).toEqual(plantLooks(live.farm.peek()))
      }
    }), { numRuns: 50 })
  })

  it('costs a look at the plant that changed, and at no other', () => {
    const many = Array.from({ length: 2_000 }, (_, i) => plant(`p${i}`, { line: 1, number: i + 1 }))
    const farm = farmWith({ plantings: [plantingWith()], stocks: [stockWith()], plants: many })
    const looked: PlantID[] = []
    const standing = new Map(farm.plants)
    const plants = new Proxy(standing, {
      get: (of, name) => {
        if (name === 'get') return (one: PlantID) => { looked.push(one); return of.get(one) }
        if (name === 'keys') return () => of.keys()
        throw new Error(`plants were read by ${String(name)}, which is not counted`)
      },
    })
    const looks = new PlantLooks()
    looks.touchAll()
    looks.settle({ ...farm, plants })
    expect(new Set(looked).size).toBe(2_000)
    looked.length = 0
    const before = looks.found
    looks.settle({ ...farm, plants })
    expect([looked, looks.found === before]).toEqual([[], true])
    const slipped = plant('p7', { line: 1, number: 9 })
    standing.set(slipped.id, slipped)
    looks.touch(slipped.id)
    looks.settle({ ...farm, plants })
    expect(looks.found.map(({ kind, plants: of }) => [kind, of])).toEqual([['shared_place', ['p7', 'p8']]])
    expect(new Set(looked)).toEqual(new Set([slipped.id]))
  })
})
