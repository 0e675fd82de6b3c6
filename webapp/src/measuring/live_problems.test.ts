import { describe, expect, it } from 'vitest'
import type { Problem } from '../colourcard/measurement'
import { type Subject, toMend } from './live_problems'

describe('a picture waits', () => {
  const cases: readonly [string, readonly Problem[], boolean, Subject, readonly Problem[]][] = [
    ['for what a hand can mend', ['dark', 'blurred'], true, 'head', ['dark', 'blurred']],
    ['for the head where a head is photographed', ['head_cut_off'], true, 'head', ['head_cut_off']],
    ['for no head where the card alone is', ['no_head', 'glare'], true, 'card', ['glare']],
    ['for nothing that is wrong with the batch', ['unknown_card', 'faded_card'], false, 'head', []],
    ['for a finger over the patches of a known batch', ['covered'], false, 'head', ['covered']],
    ['for no patches of an unknown batch that may have been printed so', ['unknown_card', 'covered'], false, 'head', []],
    ['for a finger over too many patches of an unknown batch', ['unknown_card', 'covered'], true, 'head', ['covered']],
  ]
  it.each(cases)('%s', (_, problems, refused, subject, waits) => {
    expect(toMend({ problems, refused }, subject)).toEqual(waits)
  })
})
