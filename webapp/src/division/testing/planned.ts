// A shed's plan for tests: a whole one, of which a test tells only what it is about.

import type { Day, PlantID, Season } from '../../crop/nouns'
import type { Action, DivisionAnswer } from '../division_answer'

export function actionWith(plant: string, told: Partial<Action> = {}): Action {
  return {
    plant: plant as PlantID, do: 'keep', value_cents: { mean: 900, lo: -250, hi: 2100 }, stems: { mean: 20, lo: 12, hi: 31 }, why: [], gives_up_cents: 0, ...told,
  }
}

export function answerWith(actions: readonly Action[], told: Partial<DivisionAnswer> = {}): DivisionAnswer {
  return {
    asof: '2026-09-01' as Day, season: 2026 as Season, actions, goal: { chance: 0.72, draws: 800, stems: { mean: 300, lo: 200, hi: 400 }, now: 190 },
    net_cents: { mean: 120_000, lo: 80_000, hi: 160_000 }, gap: 0, place_worth_cents: 310, hour_worth_cents: 1900, places_used: 12, hours_used: 7.4, ...told,
  }
}
