// Reports of measured colours for tests: whole ones, of which a test tells only what it is about.

import type { Lab } from '../../colour/lab'
import type { PlantID, Season } from '../../crop/nouns'
import type { ColourReport, PlantColour, PlantSeason, Shift } from '../colour_report'

export function colourReportWith(told: Partial<ColourReport> = {}): ColourReport {
  return {
    level: 0.9, threshold: 3, readings: 0, firm: 0, plants: 0, sessions: [], stand: [], references: [], plant_seasons: [], colours: [], power: [], notes: [], ...told,
  }
}

/** Of a standard error of se in each component. */
export function plantColourWith(plant: string, season: number, { L, a, b }: Lab, told: Partial<PlantColour> & { readonly se?: number } = {}): PlantColour {
  const { se = 0.5, ...more } = told
  return {
    plant: plant as PlantID, season: season as Season, lab: { l: L, a, b }, cov: { ll: se * se, la: 0, lb: 0, aa: se * se, ab: 0, bb: se * se },
    readings: 4, firm: 4, ...more,
  }
}

export function shiftWith(told: Partial<Shift> = {}): Shift {
  const still = { value: 0, se: 0.5 }
  return {
    from: { l: 60, a: 30, b: 10 }, by: { l: 0, a: 0, b: 0 }, total: { mean: 0, lo: 0, hi: 1 }, lightness: still, chroma: still, hue: still, p: 1, noticeable: 4, ...told,
  }
}

export function plantSeasonWith(plant: string, told: Partial<PlantSeason> = {}): PlantSeason {
  return {
    plant: plant as PlantID, season: 2026 as Season, baseline: 2025 as Season, readings: 4, days: 2, state: 'none', reasons: [], shift: shiftWith(), ...told,
  }
}
