import { describe, expect, it } from 'vitest'
import { colourFacts } from '../crop/facts'
import type { ColourID, Day, PlantID, ReadingID } from '../crop/nouns'
import { colourWith, farmWith, plantWith, readingWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import { changeBy, classFacts, type ClassForm, classForm, lackingInClass, modelsFor, overlapping, photosFor } from './class_form'
import { colourOf } from './colour_report'
import { coloursBySeason } from './plant_colours'
import { plantColourWith } from './testing/colours'

const id = 'rose' as ColourID
const rose = { L: 50, a: 40, b: 10 }
const form = (told: Partial<ClassForm> = {}): ClassForm => ({ name: 'rose', lab: rose, from: 'hand', limit: 5, ...told })
const before = colourWith({ id, name: 'rose', swatch: '#b23a52' })

describe('a class that is kept', () => {
  const kept = (told: ClassForm, of = before) => farmSaid(colourFacts(of), classFacts(id, told, of)).colours.get(id)

  it('has its measured colour, whence it came and its limit, and is painted by eye as before', () => {
    expect(kept(form({ from: 'plant/p', limit: 6.5 }))).toEqual({ id, name: 'rose', swatch: '#b23a52', lab: rose, labFrom: 'plant/p', limit: 6.5 })
  })

  it('is painted as it was measured where nobody painted it', () => {
    expect(farmSaid(classFacts(id, form(), undefined)).colours.get(id)?.swatch).toMatch(/^#[0-9a-f]{6}$/)
  })

  it('can have another name, and nothing else is said of it', () => {
    expect(classFacts(id, form({ name: ' Rosé ', lab: undefined }), before).map(({ field }) => field)).toEqual(['name', 'swatch'])
  })

  it('is by eye again once its colour is taken back', () => {
    const measured = { ...before, lab: rose, labFrom: 'hand', limit: 6 }
    const facts = classFacts(id, form({ lab: undefined }), measured)
    expect(farmSaid(colourFacts(before), classFacts(id, form({ limit: 6 }), before), facts).colours.get(id)).toMatchObject({ lab: undefined, labFrom: '' })
  })

  it('says nothing where nothing differs', () => {
    expect(classFacts(id, classForm(before), before)).toEqual([])
    expect(classFacts(id, form({ limit: 6 }), { ...before, lab: rose, labFrom: 'hand', limit: 6 })).toEqual([])
  })
})

describe('a class that is told', () => {
  const farm = farmWith({ colours: [before, colourWith({ id: 'blush' as ColourID, name: 'Blush' })] })
  it.each<[string, ClassForm, typeof before | undefined, string | undefined]>([
    ['lacks nothing', form({ name: 'plum' }), undefined, undefined], ['lacks a name', form({ name: ' ' }), undefined, 'name'],
    ['has another’s name', form({ name: 'blush' }), undefined, 'known'], ['keeps its own name', form(), before, undefined],
    ['lacks a colour while it is new', form({ name: 'plum', lab: undefined }), undefined, 'colour'], ['may stay by eye', form({ lab: undefined }), before, undefined],
  ])('%s', (_, told, of, lacks) => {
    expect(lackingInClass(farm, told, of)).toBe(lacks)
  })
})

describe('what a class would change', () => {
  const other = colourWith({ id: 'blush' as ColourID, name: 'blush', lab: { L: 50, a: 20, b: 5 } })
  const farm = farmWith({ colours: [before, other] })
  const at = (a: number, b: number) => colourOf(plantColourWith('p', 2026, { L: 50, a, b }))
  it('is told of the measured plants', () => {
    expect(changeBy(farm, id, form(), [at(40, 10), at(41, 11), at(20, 5), at(0, 60)])).toEqual({ now: 0, then: 2, between: 0, measured: 4 })
    expect(changeBy(farm, id, form({ limit: 15 }), [at(28.8, 7.2)]).between).toBe(1)
  })

  it('names classes so near that plants between will be of either', () => {
    expect(overlapping(farm, id, form()).map(({ colour }) => colour.name)).toEqual([])
    expect(overlapping(farm, id, form({ limit: 15 })).map(({ colour }) => colour.name)).toEqual(['blush'])
  })
})

describe('models of a class', () => {
  const plant = (code: string, colour: string) => plantWith({ id: code as PlantID, code, colour: colour as ColourID })
  const photo = (told: object) => readingWith({ plant: 'a' as PlantID, ...told })
  const farm = farmWith({
    plants: [plant('a', 'blush'), plant('b', 'rose'), plant('c', '')],
    readings: [
      photo({ id: 'old' as ReadingID, date: '2025-05-20' as Day }), photo({ id: 'new' as ReadingID }), photo({ id: 'sun' as ReadingID, light: 'sun' }),
      photo({ id: 'own' as ReadingID, plant: 'b' as PlantID, date: '2024-05-20' as Day }), photo({ id: 'fading' as ReadingID, stage: 'fading' }), photo({ id: 'gone' as ReadingID, plant: 'x' as PlantID }),
    ],
  })

  it('are measured plants, those of the class first, in their newest colour', () => {
    const models = modelsFor(farm, coloursBySeason({ colours: [plantColourWith('a', 2025, rose), plantColourWith('a', 2026, rose), plantColourWith('x', 2026, rose)] }), id)
    expect(models.map(({ plant: { code }, season }) => [code, season])).toEqual([['b', 2024], ['a', 2026]])
  })

  it('are photos of full bloom out of the sun, those of the class first, then the newest', () => {
    expect(photosFor(farm, id).map(({ id: one }) => one)).toEqual(['own', 'new', 'old'])
  })
})
