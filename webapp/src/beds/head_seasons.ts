// A plant's readings as its page shows them: season by season from the oldest, each with how far it lies from the plant's
// baseline, which is its colour in the first season that has a good reading.

import { colourFromReadings, colourOfReading, distance, type Distance, fits, type MeasuredColour } from '../crop/measured_colour'
import type { Farm, PlantID, Reading, Season } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { readingsOfPlant } from '../measuring/plant_readings'
import { type ColourReport, colourOf, type PlantSeason, type StandShift } from './colour_report'
import { judgedSeasons } from './plant_drift'

export interface HeadSeason {
  /** 0 of readings whose day is none. */
  readonly season: Season
  readonly isBaseline: boolean
  /** What the shed says of it; undefined in the first season, and until the shed has answered. */
  readonly judged: PlantSeason | undefined
  /** What the whole stand did since the baseline; undefined where nothing is seen of it. */
  readonly stand: StandShift | undefined
  /** The oldest first. */
  readonly heads: readonly HeadReading[]
}

export interface HeadReading {
  readonly reading: Reading
  /** From the baseline; 'within' of one that it is made of, undefined while there is none. */
  readonly away: Distance | 'within' | undefined
}

type Known = Pick<Farm, 'readings' | 'readingsOf' | 'calendar'>

/** The oldest season first. */
export function headSeasons(farm: Known, report: ColourReport | undefined, plant: PlantID): HeadSeason[] {
  const readings = readingsOfPlant(farm, plant).reverse()
  const baseline = baselineOf(farm, report, plant)
  const seasons = [...new Set(readings.map(({ date }) => seasonOf(farm.calendar, date)))].sort((a, b) => a - b)
  return seasons.map((season) => ({
    season, isBaseline: season === baseline?.season,
    judged: report && judgedSeasons(report, plant).find((one) => one.season === season),
    stand: report?.stand.find((one) => one.season === season && one.since === baseline?.season && one.moved),
    heads: readings
      .filter(({ date }) => seasonOf(farm.calendar, date) === season)
      .map((reading) => ({ reading, away: baseline && awayFrom(baseline, reading, season) })),
  }))
}

interface Baseline {
  readonly season: Season
  readonly colour: MeasuredColour
}

/** As the shed says it; by the readings alone until it has answered for one of them. */
function baselineOf(farm: Known, report: ColourReport | undefined, plant: PlantID): Baseline | undefined {
  const told = report?.colours.filter((one) => one.plant === plant) ?? []
  const judgedFrom = report && judgedSeasons(report, plant).find(({ baseline }) => baseline !== 0)?.baseline
  const from = judgedFrom ?? told.filter(({ firm }) => firm > 0).map(({ season }) => season).sort((a, b) => a - b)[0]
  const colour = told.find(({ season }) => season === from)
  if (colour) return { season: colour.season, colour: colourOf(colour) }
  const seasons = [...new Set(readingsOfPlant(farm, plant).map(({ date }) => seasonOf(farm.calendar, date)))].sort((a, b) => a - b)
  for (const season of seasons) {
    const own = colourFromReadings(farm, plant, season)
    if (own) return { season, colour: own }
  }
  return undefined
}

function awayFrom(baseline: Baseline, reading: Reading, season: Season): Distance | 'within' {
  if (season === baseline.season && fits(reading)) return 'within'
  const { lab, cov } = colourOfReading(reading)
  const { cov: own } = baseline.colour
  return distance(baseline.colour.lab, {
    lab, cov: { LL: cov.LL + own.LL, La: own.La, Lb: own.Lb, aa: cov.aa + own.aa, ab: own.ab, bb: cov.bb + own.bb },
  })
}
