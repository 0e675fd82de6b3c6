// What the shed says of colours is asked for, kept, and read again without it.

import { signal } from '@preact/signals'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { PlantID, Season } from '../crop/nouns'
import { farmWith, plantWith, readingWith } from '../crop/testing/nouns'
import type { Notebook, SyncStatus } from '../sync/notebook'
import { answer, isColoursAnswer, readColours, refreshColours } from './colours'
import { coloursBySeason, coloursOfPlant } from './plant_colours'
import { colourReportWith, plantColourWith, plantSeasonWith, shiftWith } from './testing/colours'

const told = {
  arrival: 7, asof: '2026-06-12',
  species: [{ species: 'yarrow', left_out: 0, report: colourReportWith({ colours: [plantColourWith('p', 2026, { L: 50, a: 40, b: 10 })], plant_seasons: [plantSeasonWith('p'), plantSeasonWith('q', { shift: null, state: 'cannot_tell' })] }) }],
}

function phone(link: SyncStatus['link'], kept?: unknown) {
  const keeps = new Map<string, unknown>([['colour.answer', kept]])
  const notebook = { kept: (name: string) => keeps.get(name), keep: (name: string, value: unknown) => Promise.resolve(void keeps.set(name, value)), sync: signal({ link } as SyncStatus) } as unknown as Notebook
  return { notebook, keeps }
}

beforeEach(() => {
  answer.value = undefined
})
afterEach(() => vi.unstubAllGlobals())

describe('the answer', () => {
  it('is shown as it was kept while there is no line', async () => {
    const asked = vi.fn()
    vi.stubGlobal('fetch', asked)
    await refreshColours(phone('offline', told).notebook)
    expect(answer.value).toEqual(told)
    expect(asked).not.toHaveBeenCalled()
  })

  it('is asked for and kept while there is one', async () => {
    vi.stubGlobal('fetch', () => Promise.resolve(Response.json(told)))
    const { notebook, keeps } = phone('live')
    await refreshColours(notebook)
    expect(keeps.get('colour.answer')).toEqual(told)
    expect(answer.value).toEqual(told)
  })

  it.each<[string, unknown]>([
    ['of an earlier form', { arrival: 7, asof: '2026-06-12', species: [{ species: 'yarrow', report: {} }] }],
    ['with a colour that is none', { ...told, species: [{ ...told.species[0], report: colourReportWith({ colours: [{ ...plantColourWith('p', 2026, { L: 1, a: 1, b: 1 }), lab: { l: 1, a: 1 } as never }] }) }] }],
    ['with a shift that lacks its size', { ...told, species: [{ ...told.species[0], report: colourReportWith({ plant_seasons: [plantSeasonWith('p', { shift: { ...shiftWith(), total: undefined } as never })] }) }] }],
    ['that is nothing', undefined],
  ])('is not taken where it is one %s', (_, kept) => {
    readColours(phone('offline', kept).notebook)
    expect(answer.value).toBeUndefined()
    expect(isColoursAnswer(kept)).toBe(false)
  })
})

it('knows a plant’s colour by its own readings until the shed has answered', () => {
  const farm = farmWith({ plants: [plantWith()], readings: [readingWith(), readingWith({ id: 'r2' as never, date: '2025-06-01' as never })] })
  const shed = coloursBySeason({ colours: [plantColourWith('p', 2025, { L: 50, a: 40, b: 10 })] })
  const of = coloursOfPlant(farm, shed, 'p' as PlantID)
  expect(of.get(2025 as Season)?.lab).toEqual({ L: 50, a: 40, b: 10 })
  expect(of.get(2026 as Season)?.lab).toEqual({ L: 60, a: 20, b: 10 })
  expect(coloursOfPlant(farm, shed, 'q' as PlantID).size).toBe(0)
})
