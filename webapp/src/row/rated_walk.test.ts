import { describe, expect, it } from 'vitest'
import { colourWasFacts, plantFacts } from '../crop/facts'
import type { BedID, ColourID, Day, Plant, PlantID, PlantingID, Season, Seen, Stand } from '../crop/nouns'
import { bedWith, colourWith, farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import { byUse, colourRating, drifted, earlierColour, inOrder } from './colour_walk'
import { type RatedAction, ratedOrder, tally, withAction, withoutAction } from './rated_walk'
import { goneByWalk, standRating } from './stand_walk'

const season = 2026 as Season
const day = '2026-04-03' as Day
const plant = (id: string, told: Partial<Plant> = {}) => plantWith({ id: id as PlantID, code: id, line: 1, number: 1, ...told })
const stood = (what: Stand, on: string = day): Partial<Plant> => ({ stands: new Map([[season, { day: on as Day, what }]]) })
const seen = (what: string, of = 2026): [Season, Seen<ColourID>] => [of as Season, { day, what: what as ColourID }]
const written = (facts: ReturnType<typeof standRating.say>) => facts.map(({ field, value }) => `${field}=${String(value)}`)

describe('the order of a rated walk', () => {
  const farm = farmWith({
    beds: [bedWith()], plantings: [plantingWith(), plantingWith({ id: 'new' as PlantingID, firstSeason: 2027 as Season })],
    plants: [
      plant('b', { number: 2 }), plant('a'), plant('before its first season', { planting: 'new' as PlantingID }),
      plant('of no planting known here', { planting: 'x' as PlantingID }), plant('moved away', { bed: 'other' as BedID }),
      plant('gone before', { number: 3, removed: '2026-02-01' as Day }), plant('gone by this walk', { number: 4, removed: day, ...stood('gone') }),
      plant('goes tomorrow', { number: 5, removed: '2026-04-04' as Day }),
    ],
  })
  const codes = (rating: typeof standRating | typeof colourRating) => ratedOrder(farm, rating as typeof standRating, 'b' as BedID, season, day).map(({ code }) => code)

  it('of the stand holds what stands, and what it found gone itself', () => {
    expect(codes(standRating)).toEqual(['a', 'b', 'gone by this walk', 'goes tomorrow'])
  })

  it('of colours holds what stands', () => {
    expect(codes(colourRating)).toEqual(['a', 'b', 'goes tomorrow'])
  })
})

describe('a stand', () => {
  it.each([
    ['alive', plant('a'), 'alive', ['stand.2026=2026-04-03/alive'], ['stand.2026=']],
    ['weak over alive', plant('a', stood('alive', '2026-03-30')), 'weak', ['stand.2026=2026-04-03/weak'], ['stand.2026=2026-03-30/alive']],
    ['gone, which removes it from today', plant('a'), 'gone', ['stand.2026=2026-04-03/gone', 'removed=2026-04-03'], ['stand.2026=', 'removed=']],
    ['alive over gone, which brings it back', plant('a', { removed: '2026-03-30' as Day, ...stood('gone', '2026-03-30') }), 'alive',
      ['stand.2026=2026-04-03/alive', 'removed='], ['stand.2026=2026-03-30/gone', 'removed=2026-03-30']],
    ['gone again, gone since then', plant('a', { removed: '2026-03-30' as Day, ...stood('gone', '2026-03-30') }), 'gone',
      ['stand.2026=2026-03-30/gone'], ['stand.2026=2026-03-30/gone']],
    ['alive of a plant that goes tomorrow, whose day stays', plant('a', { removed: '2026-04-04' as Day }), 'alive', ['stand.2026=2026-04-03/alive'], ['stand.2026=']],
  ] as const)('%s', (_, before, what, say, unsay) => {
    expect(written(standRating.say(before, season, day, what))).toEqual(say)
    expect(written(standRating.unsay(before, season, day, what))).toEqual(unsay)
  })

  it('does not call gone by a walk what was removed on another day', () => {
    expect(goneByWalk(plant('a', { removed: '2026-05-01' as Day, ...stood('gone') }), season)).toBe(false)
  })
})

describe('a colour', () => {
  const was = plant('a', { colour: 'barley' as ColourID })
  const oyster = 'oyster' as ColourID

  it('becomes the plant’s own and the season’s, and is taken back to what it was', () => {
    expect(written(colourRating.say(was, season, day, oyster))).toEqual(['colour=oyster', 'colour.2026=2026-04-03/oyster'])
    expect(written(colourRating.unsay(was, season, day, oyster))).toEqual(['colour=barley', 'colour.2026='])
    const again = plant('a', { colour: 'barley' as ColourID, colours: new Map([seen('barley')]) })
    expect(written(colourRating.unsay(again, season, day, oyster))).toEqual(['colour=barley', 'colour.2026=2026-04-03/barley'])
  })

  it.each<[string, Partial<Plant>]>([
    ['that was of no class', {}],
    ['that had a class of no season', { colour: 'barley' as ColourID }],
    ['that had another class than was seen in the season', { colour: 'ember' as ColourID, colours: new Map([seen('barley')]) }],
    ['that had none beside what was seen in the season', { colours: new Map([seen('barley')]) }],
    ['that was seen in seasons before', { colour: 'ember' as ColourID, colours: new Map([seen('ember', 2025), seen('barley')]) }],
  ])('taken back leaves a plant %s as it was', (_, told) => {
    const before = plant('a', told)
    const saidSeen = [...before.colours].flatMap(([of, one]) => colourWasFacts(before.id, of, one, before.colour))
    const ground = [...plantFacts(before), ...saidSeen]
    const farm = farmSaid(ground, colourRating.say(before, season, '2026-06-03' as Day, oyster), colourRating.unsay(before, season, '2026-06-03' as Day, oyster))
    const after = farm.plants.get(before.id)
    expect([after?.colour, after?.colours]).toEqual([before.colour, before.colours])
  })

  it.each([
    ['the latest season’s before', { colours: new Map([seen('x', 2024), seen('y', 2025), seen('z')]) }, { colour: 'y', season: 2025 }],
    ['the plant’s own, of no known season', { colour: 'y' as ColourID }, { colour: 'y', season: undefined }],
    ['none where its own is this season’s', { colour: 'z' as ColourID, colours: new Map([seen('z')]) }, undefined],
    ['none of a plant never seen in bloom', {}, undefined],
  ])('was before: %s', (_, told, before) => {
    expect(earlierColour(plant('a', told), season)).toEqual(before)
  })

  it('has drifted where it is another than before', () => {
    const plants = [plant('same', { colours: new Map([seen('x', 2025), seen('x')]) }), plant('other', { colours: new Map([seen('x', 2025), seen('y')]) }), plant('new', { colours: new Map([seen('x')]) })]
    expect(drifted(plants, season).map(({ code }) => code)).toEqual(['other'])
  })

  it('comes in the order of use in the bed, and one made on the way comes last', () => {
    const colours = new Map(['ash', 'fire', 'moss'].map((id) => [id as ColourID, colourWith({ id: id as ColourID, name: id })]))
    const began = byUse({ colours }, [plant('a', { colour: 'moss' as ColourID })]).map(({ id }) => id)
    expect(began).toEqual(['moss', 'ash', 'fire'])
    const later = new Map([['aaa' as ColourID, colourWith({ id: 'aaa' as ColourID, name: 'aaa' })], ...colours])
    expect(inOrder({ colours: later }, began).map(({ id }) => id)).toEqual(['moss', 'ash', 'fire', 'aaa'])
  })
})

it('counts what was found', () => {
  expect([...tally([plant('a', stood('alive')), plant('b', stood('alive')), plant('c', stood('weak')), plant('d')], standRating, season)]).toEqual([['alive', 2], ['weak', 1]])
})

describe('the journal', () => {
  const action = (id: string, on = day): RatedAction => ({ kind: 'rating', plant: id as PlantID, what: 'alive', day: on, earlier: '', back: [] })

  it('begins anew with a day and forgets the oldest', () => {
    expect(withAction({ day: '2026-04-02' as Day, actions: [action('a')] }, action('b')).actions).toEqual([action('b')])
    let journal = withAction(undefined, action('0'))
    for (let i = 1; i < 40; i++) journal = withAction(journal, action(String(i)))
    expect(journal.actions.map(({ plant: id }) => id).slice(0, 1)).toEqual(['10'])
  })

  it('lets go of an action that it read back from the disk', () => {
    const journal = withAction(withAction(undefined, action('a')), action('b'))
    expect(withoutAction(structuredClone(journal), action('a'))?.actions).toEqual([action('b')])
    expect(withoutAction(journal, action('c'))?.actions).toHaveLength(2)
  })
})
