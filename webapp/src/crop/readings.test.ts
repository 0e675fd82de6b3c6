import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { cardFacts, colourFacts, colourLabFacts, plantFacts, readingFacts, referenceFacts, withdrawnFact } from './facts'
import type { Day, PhotoHash, PlantID, ReadingID } from './nouns'
import { formatLab, parseLab, parseLabs } from './readings'
import { cardWith, colourWith, plantWith, readingWith } from './testing/nouns'
import { farmSaid } from './testing/said'

/** Each fact said after the one before. */
function farmOf(facts: readonly Fact[]) {
  return farmSaid(...facts.map((fact) => [fact]))
}

describe('a reading', () => {
  const told = readingWith({
    id: 'r' as ReadingID, lab: { L: 58.21, a: -12.03, b: 33.44 }, se: { L: 0.8, a: 1.1, b: 1.25 }, spread: 84.3, spreadSE: 1.2, light: 'shade',
    card: cardWith().id, camera: 'back', photo: '0a'.repeat(32) as PhotoHash, head: { x: 0.1, y: 0.25, width: 0.5, height: 0.3333 },
    quality: 83, problems: ['glare', 'slanted'], at: 1002, // its colour is the third of its facts
  })

  it('is read as it was written, and found by its plant', () => {
    const farm = farmOf(readingFacts(told))
    expect(farm.readings.get(told.id)).toEqual(told)
    expect([...(farm.readingsOf.get(told.plant) ?? [])]).toEqual([told.id])
  })

  it('is gone once it is withdrawn', () => {
    const farm = farmOf([...readingFacts(told), withdrawnFact('reading', told.id, true)])
    expect(farm.readings.size).toBe(0)
  })

  it('is no reading while it tells no colour', () => {
    expect(farmOf(readingFacts(told).filter(({ field }) => field !== 'lab')).readings.size).toBe(0)
  })

  it('moves to the plant that it is said to be of', () => {
    const farm = farmOf([...readingFacts(told), ...readingFacts({ ...told, plant: 'q' as PlantID })])
    expect(farm.readingsOf.get('q' as PlantID)).toEqual(new Set([told.id]))
    expect(farm.readingsOf.get(told.plant) ?? new Set()).toEqual(new Set())
  })
})

describe('a batch of cards', () => {
  it('is read as it was written', () => {
    const card = cardWith({ printed: '2026-03-01' as Day, patches: [{ L: 22, a: 0, b: 0 }, { L: 95.1, a: 0.3, b: -2.2 }], se: 0.6, how: 'beside', measured: '2026-03-02' as Day, scale: 79.6 })
    expect(farmOf(cardFacts(card)).cards.get(card.id)).toEqual(card)
  })

  it('keeps what is not told anew', () => {
    const card = cardWith({ se: 0.6, how: 'typed' })
    const farm = farmOf([...cardFacts(card), ...cardFacts({ id: card.id, retired: '2026-11-01' as Day })])
    expect(farm.cards.get(card.id)).toEqual({ ...card, retired: '2026-11-01' })
  })
})

it('gives a class its measured colour and takes it back', () => {
  const colour = colourWith()
  const measured = colourLabFacts(colour.id, { L: 40, a: 30.5, b: -2 }, 'hand', 4.5)
  expect(farmOf([...colourFacts(colour), ...measured]).colours.get(colour.id)).toMatchObject({ lab: { L: 40, a: 30.5, b: -2 }, labFrom: 'hand', limit: 4.5 })
  const back = colourLabFacts(colour.id, undefined, 'hand', 0)
  expect(farmOf([...colourFacts(colour), ...measured, ...back]).colours.get(colour.id)).toMatchObject({ lab: undefined, labFrom: '' })
})

it('marks a plant as a reference, and no longer', () => {
  const plant = plantWith()
  const facts = [...plantFacts(plant), ...referenceFacts(plant.id, true)]
  expect(farmOf(facts).plants.get(plant.id)?.reference).toBe(true)
  expect(farmOf([...facts, ...referenceFacts(plant.id, false)]).plants.get(plant.id)?.reference).toBe(false)
})

describe('a colour', () => {
  it.each([
    ['0/0/0', { L: 0, a: 0, b: 0 }],
    ['5821/-1203/3344', { L: 58.21, a: -12.03, b: 33.44 }],
  ])('%s is written as it is read', (written, lab) => {
    expect(parseLab(written)).toEqual(lab)
    expect(formatLab(lab)).toBe(written)
  })

  it.each(['', '1/2', '1/2/3/4', '-1/2/3', '1/+2/3', 'a/b/c', '1.5/2/3'])('is not %j', (written) => {
    expect(parseLab(written)).toBeUndefined()
  })

  it('is one of several', () => {
    expect(parseLabs('1/2/3 4/5/6')).toHaveLength(2)
    expect(parseLabs('1/2/3 x')).toBeUndefined()
  })
})
