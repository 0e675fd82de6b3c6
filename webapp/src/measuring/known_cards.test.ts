import { describe, expect, it } from 'vitest'
import { asPrinted } from '../colourcard/as_printed'
import type { Card, CardID, Day } from '../crop/nouns'
import { cardWith, farmWith } from '../crop/testing/nouns'
import { batchOn, knownCards, stateOfCard } from './known_cards'

const today = '2026-06-03' as Day
const measured = { patches: asPrinted.patches, se: 0.6, how: 'beside' } as const

describe('a batch of cards', () => {
  it('is known with what was measured, and by how much its print is scaled', () => {
    const farm = farmWith({ cards: [cardWith({ ...measured, scale: 78 })] })
    expect(knownCards(farm, today).get('K7M2QX')).toEqual({ patches: measured.patches, se: 0.6, scale: 0.975, scaleSE: 0.004, measured: true, retired: false, retiredOn: '' })
  })

  it('is taken for as large as it should be where its scale was not measured', () => {
    expect(knownCards(farmWith({ cards: [cardWith(measured)] }), today).get('K7M2QX')).toMatchObject({ scale: 1, scaleSE: 0.025 })
  })

  it('is not known where it was taken as it was sent to the printer', () => {
    expect(knownCards(farmWith({ cards: [cardWith({ ...measured, how: 'as_printed', se: 3 })] }), today).size).toBe(0)
  })

  it('is refused when it is retired, measured or not', () => {
    for (const card of [{ retired: today }, { ...measured, retired: today }]) {
      expect(knownCards(farmWith({ cards: [cardWith(card)] }), today).get('K7M2QX')?.retired).toBe(true)
    }
  })

  it('that nobody measured is unknown on the days before it was retired, and refused after', () => {
    const batch = knownCards(farmWith({ cards: [cardWith({ retired: '2026-05-01' as Day })] }), today).get('K7M2QX')
    expect(batchOn(batch, '2026-05-01' as Day)).toBeUndefined()
    expect(batchOn(batch, '2026-05-02' as Day)?.retired).toBe(true)
  })

  it.each<[string, Partial<Card> | undefined, string]>([
    ['nobody knows', undefined, 'unknown'],
    ['was printed and not measured', {}, 'unknown'],
    ['was measured', measured, 'known'],
    ['has too few colours', { ...measured, patches: asPrinted.patches.slice(1) }, 'unknown'],
    ['does not say how surely it was measured', { ...measured, se: 0 }, 'unknown'],
    ['does not say where its colours come from', { ...measured, how: '' }, 'unknown'],
    ['is retired from a day to come', { ...measured, retired: '2026-06-04' as Day }, 'known'],
    ['is retired from today', { ...measured, retired: today }, 'retired'],
    ['was retired before it was measured', { retired: '2026-01-01' as Day }, 'retired'],
  ])('that %s is %s', (_, card, state) => {
    const farm = farmWith({ cards: card ? [cardWith({ id: 'K7M2QX' as CardID, ...card })] : [] })
    expect(stateOfCard(farm, 'K7M2QX', today)).toBe(state)
    if (state === 'unknown') expect(knownCards(farm, today).size).toBe(0)
  })
})

describe('a batch that is retired by now', () => {
  const batch = knownCards(farmWith({ cards: [cardWith({ ...measured, retired: '2026-06-02' as Day })] }), today).get('K7M2QX')
  it.each<[string, Day | '', boolean]>([
    ['for what the camera sees now', '', true],
    ['for a photo of a later day', '2026-06-03' as Day, true],
    ['not for one of the day itself', '2026-06-02' as Day, false],
    ['not for one of before', '2025-08-01' as Day, false],
  ])('is so %s', (_, day, retired) => {
    expect(batchOn(batch, day)?.retired).toBe(retired)
  })
})
