import { describe, expect, it } from 'vitest'
import { usualCosts } from '../crop/ahead_nouns'
import { costForm, readCostForm } from './cost_form'

const form = costForm(usualCosts)

describe('what divisions cost', () => {
  it('is shown as amounts and whole numbers', () => {
    expect(form).toEqual({ hour: '20.00', divide: '6', lift: '5', set: '3', plug: '2.50', ground: '0.40', standing: '70' })
  })

  it.each<[string, Partial<typeof form>, unknown]>([
    ['nothing changed', {}, { costs: {} }],
    ['an amount to the cent, with a comma', { hour: '18,5' }, { costs: { hour: 1850 } }],
    ['what costs nothing', { ground: '0', plug: '0.00' }, { costs: { ground: 0, plug: 0 } }],
    ['minutes and percent', { divide: ' 9 ', standing: '110' }, { costs: { divide: 9, standing: 110 } }],
    ['parts of a cent and of a minute', { plug: '2.505', lift: '4.5' }, { problems: ['lift', 'plug'] }],
    ['below nothing', { hour: '-1' }, { problems: ['hour'] }],
    ['slips', { set: '601', standing: '501' }, { problems: ['set', 'standing'] }],
  ])('%s', (_, typed, want) => expect(readCostForm({ ...form, ...typed }, usualCosts)).toEqual(want))

  it('is as usual again where a field is empty', () => {
    expect(readCostForm({ ...form, hour: '' }, { ...usualCosts, hour: 1850 })).toEqual({ costs: { hour: usualCosts.hour } })
  })
})
