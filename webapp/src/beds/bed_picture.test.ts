import { describe, expect, it, test } from 'vitest'
import type { BedID, Colour, ColourID, Day, Farm, Flag, FlagKind, Millimetres, Plant, PlantID, PlantingID, Season, StockID, Visit, VisitID } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, stockWith, visitWith } from '../crop/testing/nouns'
import { colourIn, flagsOn, type Picture, pictureOf, pictureSeasons } from './bed_picture'
import { pastOf } from './bed_picture_past'

const today = '2026-07-01' as Day
const bed = bedWith({ length: 8_000 as Millimetres, width: 1_200 as Millimetres, lines: 3 })
const otherBed = bedWith({ id: 'other' as BedID })
const colours = new Map([['rose', '#dd8791'], ['straw', '#ecdca0']].map(([name, swatch]) =>
  [name as ColourID, { id: name as ColourID, name, swatch } as Colour]))

function plant(code: string, told: Partial<Plant> = {}): Plant {
  return plantWith({ id: code as PlantID, code, line: 1, number: 1, ...told })
}

function cut(of: string, date: string, stems: number): Visit {
  const counts = [{ colour: '', grade: '', length: { lo: 0, hi: 0 }, stems }] as unknown as Visit['counts']
  return visitWith({ id: `${of} ${date}` as VisitID, plant: of as PlantID, date: date as Day, counts })
}

const selfSown = stockWith({ id: 'w' as StockID, origin: 'self_sown' })
const plantings = [
  plantingWith(), // 'g', set in autumn 2025
  plantingWith({ id: 'old' as PlantingID, planted: '2023-09-20' as Day, firstSeason: 2024 as Season }),
  plantingWith({ id: 'wild' as PlantingID, stock: selfSown.id, planted: '2025-05-01' as Day }),
  plantingWith({ id: 'away' as PlantingID, bed: otherBed.id }),
]

function farmOf(plants: readonly Plant[], visits: readonly Visit[] = []): Farm {
  return farmWith({ beds: [bed, otherBed], stocks: [stockWith(), selfSown], plantings, plants, visits }, { colours })
}

function shown(season: number, plants: readonly Plant[], visits: readonly Visit[] = []): Picture {
  return pictureOf(pastOf(farmOf(plants, visits), bed, today), season as Season)
}

const codes = (all: readonly { readonly plant: Plant }[]) => all.map((one) => one.plant.code)

describe('where plants are drawn', () => {
  it('spreads lines over the width and numbers along the length by the longest line of any season', () => {
    const plants = [plant('A'), plant('B', { line: 3, number: 8 }), plant('gone', { line: 2, number: 20, removed: '2025-12-31' as Day })]
    const { heads } = shown(2026, plants)
    expect(heads.map(({ at }) => at)).toEqual([{ x: 200, y: 200 }, { x: 3_000, y: 1_000 }])
  })

  it('leaves every plant where it is beside one whose number is too far along for the bed, which is shown apart with who came up at its foot', () => {
    const plants = [plant('A'), plant('B', { line: 3, number: 8 })]
    const slip = plant('slip', { line: 2, number: 9_999 })
    const foot = plant('foot', { line: 0, number: 0, planting: 'wild' as PlantingID, beside: slip.id })
    const left = plant('left', { line: 2, number: 9_998, planting: 'old' as PlantingID, removed: '2025-03-01' as Day })
    const [before, { heads, far, unplaced, gaps, gapsFar }] = [shown(2026, plants), shown(2026, [...plants, slip, foot, left])]
    expect(heads).toEqual(before.heads)
    expect([codes(far), codes(unplaced), gaps, gapsFar]).toEqual([['slip', 'foot'], [], [], 1])
  })

  it('takes a grid of squares where the bed has no measures, wide enough for every line', () => {
    const bare = bedWith({ lines: 1 })
    const farm = farmWith({ beds: [bare], plantings, plants: [plant('A', { line: 2, number: 3 })] })
    const past = pastOf(farm, bare, today)
    expect(past.ground).toMatchObject({ length: 1_200, width: 800, measured: false, pitch: 400 })
    expect(pictureOf(past, 2026 as Season).heads[0]?.at).toEqual({ x: 1_000, y: 600 })
  })

  it('draws two plants on one place side by side', () => {
    const [a, b] = shown(2026, [plant('A'), plant('B')]).heads
    expect(a!.at.y).toBe(b!.at.y)
    expect(b!.at.x - a!.at.x).toBeGreaterThan(0)
  })

  test.each([
    ['neither line nor number', { line: 0, number: 0 }], ['a line alone', { line: 2, number: 0 }],
  ])('a plant with %s is listed and not drawn', (_, place) => {
    const { heads, unplaced } = shown(2026, [plant('A', place)])
    expect([codes(heads), codes(unplaced)]).toEqual([[], ['A']])
  })
})

describe('seedlings', () => {
  const wild = { planting: 'wild' as PlantingID, line: 0, number: 0 }

  it('stand at the foot of their plant, each on its own spot', () => {
    const mother = plant('M', { line: 2, number: 1 })
    const { heads } = shown(2026, [plant('w1', { ...wild, beside: mother.id }), mother, plant('w2', { ...wild, beside: mother.id })])
    const at = new Map(heads.map((head) => [head.plant.code, head.at]))
    const reach = (code: string) => Math.hypot(at.get(code)!.x - at.get('M')!.x, at.get(code)!.y - at.get('M')!.y)
    expect(reach('w1')).toBeCloseTo(reach('w2'))
    expect(reach('w1')).toBeGreaterThan(0)
    expect(at.get('w1')).not.toEqual(at.get('w2'))
    expect(heads.filter(({ seedling }) => seedling)).toHaveLength(2)
  })

  it('stay where a plant stood that is gone', () => {
    const mother = plant('M', { removed: '2025-12-05' as Day })
    expect(codes(shown(2026, [plant('w', { ...wild, beside: mother.id }), mother]).heads)).toEqual(['w'])
  })

  it('stay where they came up when their plant is moved, and leave with a move of their own', () => {
    const [bed, until] = ['b' as BedID, '2026-04-20' as Day]
    const mother = plant('M', { line: 3, number: 8, stood: [{ bed, line: 1, number: 2, from: '', until }] })
    const dug = plant('dug', { ...wild, beside: mother.id, stood: [{ bed, line: 0, number: 0, from: '', until }] })
    const { heads, unplaced } = shown(2026, [mother, plant('w', { ...wild, beside: mother.id }), dug])
    expect([codes(heads), codes(unplaced)]).toEqual([['M', 'w'], ['dug']])
    expect(heads[1]?.on).toMatchObject({ line: 1, number: 2 })
  })

  it('are listed where their plant is in no known place', () => {
    expect(codes(shown(2026, [plant('w', { ...wild, beside: 'nobody' as PlantID })]).unplaced)).toEqual(['w'])
  })

  it('of a self-sown stock have a place of their own', () => {
    const [head] = shown(2026, [plant('w', { ...wild, line: 1, number: 4 })]).heads
    expect(head).toMatchObject({ seedling: true, place: { line: 1, number: 4 } })
  })
})

describe('who stood in a season', () => {
  const old = { planting: 'old' as PlantingID }
  const cases: [string, Partial<Plant>, number, string][] = [
    ['planted in its autumn: drawn', {}, 2025, 'head'],
    ['planted later: not there', {}, 2024, ''],
    ['removed before it: a gap', { ...old, removed: '2024-12-30' as Day }, 2025, 'gap'],
    ['removed within it: drawn as gone', { ...old, removed: '2025-09-12' as Day }, 2025, 'gone'],
    ['removed today: drawn as gone', { ...old, removed: today }, 2026, 'gone'],
    ['removed after it: drawn', { ...old, removed: '2026-02-12' as Day }, 2025, 'head'],
    ['removed ahead of today: still drawn', { ...old, removed: '2026-08-12' as Day }, 2026, 'head'],
    ['moved here later: not there', { bed: 'b' as BedID, planting: 'away' as PlantingID, stood: [{ bed: otherBed.id, line: 1, number: 1, from: '', until: '2026-03-01' as Day }] }, 2025, ''],
    ['moved here since: drawn', { bed: 'b' as BedID, planting: 'away' as PlantingID, stood: [{ bed: otherBed.id, line: 1, number: 1, from: '', until: '2026-03-01' as Day }] }, 2026, 'head'],
    ['moved away later: drawn', { ...old, bed: otherBed.id, stood: [{ bed: bed.id, line: 1, number: 1, from: '', until: '2026-03-01' as Day }] }, 2025, 'head'],
    ['moved away since: a gap', { ...old, bed: otherBed.id, stood: [{ bed: bed.id, line: 1, number: 1, from: '', until: '2026-03-01' as Day }] }, 2026, 'gap'],
  ]
  test.each(cases)('%s', (_, told, season, expected) => {
    const { heads, gaps } = shown(season, [plant('A', told)])
    expect([...heads.map(({ gone }) => (gone ? 'gone' : 'head')), ...gaps.map(() => 'gap')].join()).toBe(expected)
  })

  it('a plant moved along the bed stands where it stood then, and leaves a gap', () => {
    const moved = plant('A', { ...old, line: 2, number: 5, stood: [{ bed: bed.id, line: 1, number: 1, from: '', until: '2026-03-01' as Day }] })
    expect(shown(2025, [moved])).toMatchObject({ heads: [{ place: { line: 1, number: 1 } }], gaps: [] })
    expect(shown(2026, [moved])).toMatchObject({ heads: [{ place: { line: 2, number: 5 } }], gaps: [{ y: 200 }] })
  })

  it('where a plant is moved to only later is no gap yet', () => {
    const stay = (number: number, until: string) => ({ bed: bed.id, line: 1, number, from: '' as const, until: until as Day })
    const moved = plant('A', { ...old, number: 9, stood: [stay(1, '2026-03-01'), stay(5, '2026-05-01')] })
    expect(shown(2025, [moved]).gaps).toEqual([])
    expect(shown(2026, [moved]).gaps).toHaveLength(2)
  })

  it('a place that was planted again is no gap', () => {
    expect(shown(2026, [plant('A', { ...old, removed: '2025-01-12' as Day }), plant('B')]).gaps).toEqual([])
  })

  it('a place where two plants went one after the other is one gap', () => {
    const gone = [plant('A', { ...old, removed: '2024-12-12' as Day }), plant('B', { removed: '2025-12-12' as Day })]
    expect(shown(2026, gone).gaps).toHaveLength(1)
  })

  it('seasons are those with plants, up to the one that runs', () => {
    expect(pictureSeasons(pastOf(farmOf([plant('A', old)]), bed, today))).toEqual([2023, 2024, 2025, 2026])
    expect(pictureSeasons(pastOf(farmOf([plant('A', { ...old, removed: '2023-12-12' as Day }), plant('B')]), bed, today))).toEqual([2023, 2025, 2026])
    expect(pictureSeasons(pastOf(farmOf([]), bed, today))).toEqual([])
  })
})

describe('stems', () => {
  const window = { from: '2026-04-01' as Day, to: '2026-10-31' as Day }
  const counted = new Map([[2026 as Season, window]])
  test.each([
    ['a counted plant with none gave zero', { counted }, [], { n: 0, told: 'counted' }],
    ['a counted plant’s are all it gave', { counted }, [cut('A', '2026-05-01', 3), cut('A', '2026-05-03', 4)], { n: 7, told: 'counted' }],
    ['of an uncounted one those recorded', {}, [cut('A', '2026-05-01', 3)], { n: 3, told: 'recorded' }],
    ['of an uncounted one with no record nobody told', {}, [], { n: 0, told: 'nobody' }],
    ['before a window begins silence means nothing', { counted: new Map([[2026 as Season, { ...window, from: '2026-09-01' as Day }]]) }, [], { n: 0, told: 'nobody' }],
    ['of another season do not count', {}, [cut('A', '2025-05-01', 3)], { n: 0, told: 'nobody' }],
  ] as const)('%s', (_, told, visits, stems) => {
    expect(shown(2026, [plant('A', told)], visits).heads[0]?.stems).toEqual(stems)
  })
})

describe('colour in a season', () => {
  const seen = new Map([[2024, 'rose'], [2026, 'straw']].map(([season, what]) => [season as Season, { day: today, what: what as ColourID }]))
  test.each([
    ['that seen in it', seen, 2024, 'rose'], ['the latest seen before it', seen, 2025, 'rose'], ['the plant’s own before any was seen', seen, 2023, 'plum'],
    ['the plant’s own where none was seen', new Map(), 2025, 'plum'],
  ] as const)('%s', (_, colours, season, what) => {
    expect(colourIn(plantWith({ colour: 'plum' as ColourID, colours }), season as Season)).toBe(what)
  })

  it('is drawn in its swatch, and hollow where it has none', () => {
    const drawn = shown(2026, [plant('A', { colour: 'rose' as ColourID }), plant('B', { number: 2 }), plant('C', { number: 3, colour: 'not here yet' as ColourID })])
    expect(drawn.heads.map(({ swatch }) => swatch)).toEqual(['#dd8791', '', ''])
  })
})

describe('flags on a day', () => {
  const flag = (kind: FlagKind, day: string): Flag => ({ kind, day: day as Day, by: '' })
  const cleared = { ...flag('leaning', '2025-05-01'), clearedAt: Date.UTC(2026, 1, 3, 12), clearedBy: '' as const }
  test.each([
    ['one set before stands', { flags: [flag('mother', '2025-06-01')] }, '2025-12-31', ['mother']],
    ['one set later does not', { flags: [flag('mother', '2026-06-01')] }, '2025-12-31', []],
    ['one cleared later stood', { flagsCleared: [cleared] }, '2025-12-31', ['leaning']],
    ['one cleared since does not', { flagsCleared: [cleared] }, '2026-07-01', []],
    ['one set twice is one', { flags: [flag('lift', '2025-06-01'), flag('lift', '2025-07-01')] }, '2026-07-01', ['lift']],
  ] as const)('%s', (_, told, day, kinds) => {
    expect(flagsOn(plantWith(told), day as Day)).toEqual(kinds)
  })
})
