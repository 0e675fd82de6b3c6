// Which colour class a plant is of: by its measured colour where that tells it, else by eye.

import { difference } from '../colour/difference'
import type { Lab } from '../colour/lab'
import type { Cov, MeasuredColour } from './measured_colour'
import type { Colour, ColourID, Farm, Plant, Season } from './nouns'

/**
 * How far from its class's colour a plant may lie where nobody has set a limit, in CIEDE2000. From about 5 on people
 * speak of two colours, and petals 5.8 apart were still called one (testdata/reference/TRADE.md); and as no colour is
 * claimed closer than 5 against the world, a smaller limit would sort plants by cards and cameras.
 */
export const usualLimit = 5

/** From this share on a class is held to be told; below it the plant lies between. */
export const sureShare = 0.8

/** One answer that the uncertainty leaves open. */
export interface Likely {
  /** undefined is none of the classes. */
  readonly colour: ColourID | undefined
  /** Of all that the plant's colour may be. */
  readonly share: number
}

export interface PlantClass {
  readonly by: 'measured' | 'eye'
  /** The season in which it was measured or seen; 0 where nobody told. */
  readonly season: Season
  /** undefined: it was measured, and lies in none. */
  readonly colour: ColourID | undefined
  /** Whether its uncertainty leaves no other; an eye is taken at its word. */
  readonly sure: boolean
  /** What it may be, the likeliest first. */
  readonly likely: readonly Likely[]
}

/**
 * A plant's class as of a season: of what was measured or seen in it or else last before it. In one season what was
 * measured stands above the eye, but where it lies in no class and the eye's has no measured colour that could be
 * denied.
 *
 * @param measured - the plant's measured colours by season
 */
export function classIn(farm: Pick<Farm, 'colours'>, plant: Pick<Plant, 'colour' | 'colours'>, season: Season, measured: ReadonlyMap<Season, MeasuredColour>): PlantClass | undefined {
  const seasons = [...new Set([...measured.keys(), ...plant.colours.keys()])].filter((one) => one <= season).sort((a, b) => b - a)
  for (const one of seasons) {
    const told = classOf(farm, plant, one, measured.get(one))
    if (told) return told
  }
  return plant.colour === '' ? undefined : byEye(plant.colour, 0 as Season)
}

function classOf(farm: Pick<Farm, 'colours'>, plant: Pick<Plant, 'colour' | 'colours'>, season: Season, measured: MeasuredColour | undefined): PlantClass | undefined {
  const eye = plant.colours.get(season)?.what
  const told = measured && measuredClass([...farm.colours.values()], measured)
  if (told && (told.colour !== undefined || deniable(farm, eye ?? plant.colour))) return { by: 'measured', season, ...told }
  return eye === undefined ? undefined : byEye(eye, season)
}

function deniable(farm: Pick<Farm, 'colours'>, eye: ColourID | ''): boolean {
  return eye === '' || farm.colours.get(eye)?.lab !== undefined
}

function byEye(colour: ColourID, season: Season): PlantClass {
  return { by: 'eye', season, colour, sure: true, likely: [{ colour, share: 1 }] }
}

export function limitOf({ limit }: Pick<Colour, 'limit'>): number {
  return limit > 0 ? limit : usualLimit
}

interface Reach {
  readonly id: ColourID
  readonly lab: Lab
  readonly limit: number
}

/**
 * The nearest class within its limit, asked of all that the colour may be: by that share each is likely. undefined
 * where no class has a measured colour.
 */
export function measuredClass(classes: readonly Colour[], { lab, cov }: MeasuredColour): Pick<PlantClass, 'colour' | 'sure' | 'likely'> | undefined {
  const all = classes.flatMap((one): Reach[] => (one.lab ? [{ id: one.id, lab: one.lab, limit: limitOf(one) }] : []))
  if (all.length === 0) return undefined
  const spread = farthest * steepest * Math.sqrt(cov.LL + cov.aa + cov.bb)
  const near = all.filter((one) => difference(one.lab, lab).total <= one.limit + spread)
  const found = new Map<ColourID | undefined, number>()
  for (const one of near.length === 0 ? [lab] : drawn(lab, cov)) {
    const colour = nearestWithin(near, one)
    found.set(colour, (found.get(colour) ?? 0) + 1)
  }
  const n = [...found.values()].reduce((sum, one) => sum + one, 0)
  const likely = [...found].map(([colour, times]) => ({ colour, share: times / n })).sort((a, b) => b.share - a.share)
  const first = likely[0] ?? { colour: undefined, share: 1 }
  return { colour: first.colour, sure: first.share >= sureShare, likely }
}

/** Standard deviations beyond which none of the draws lies. */
const farthest = 3.8

/** How much larger a step may be in CIEDE2000 than in CIELAB: so much along a* at grey. */
const steepest = 1.5

function nearestWithin(classes: readonly Reach[], lab: Lab): ColourID | undefined {
  let nearest: ColourID | undefined
  let least = Infinity
  for (const { id, lab: of, limit } of classes) {
    const away = difference(of, lab).total
    if (away <= limit && away < least) [nearest, least] = [id, away]
  }
  return nearest
}

/** What the colour may be: the same points of a normal in three dimensions each time, spread evenly. */
function drawn({ L, a, b }: Lab, cov: Cov): Lab[] {
  const [l11, l21, l31, l22, l32, l33] = rootOf(cov)
  return normals.map(([x, y, z]) => ({ L: L + l11 * x, a: a + l21 * x + l22 * y, b: b + l31 * x + l32 * y + l33 * z }))
}

/** The lower triangle whose product with itself turned round is the covariance; what cannot be by rounding is 0. */
function rootOf({ LL, La, Lb, aa, ab, bb }: Cov): readonly [number, number, number, number, number, number] {
  const root = (v: number) => Math.sqrt(Math.max(0, v))
  const per = (v: number, by: number) => (by === 0 ? 0 : v / by)
  const l11 = root(LL)
  const [l21, l31] = [per(La, l11), per(Lb, l11)]
  const l22 = root(aa - l21 * l21)
  const l32 = per(ab - l21 * l31, l22)
  return [l11, l21, l31, l22, l32, root(bb - l31 * l31 - l32 * l32)]
}

/**
 * 128 points and those opposite to them, whose directions and lengths run through sequences that leave no gaps: shares
 * come within 0.04 of the normal's, and 0.01 as a rule.
 */
const normals: readonly (readonly [number, number, number])[] = Array.from({ length: 128 }, (_, i) => {
  // Additive recurrences by the powers of the root of x^4 = x + 1 (Roberts 2018), each with period 1.
  const [u, v, w] = [0.8191725133961645, 0.6710436067037893, 0.5497004779019703].map((by) => (0.5 + (i + 1) * by) % 1) as [number, number, number]
  const [up, round] = [2 * u - 1, 2 * Math.PI * v]
  const length = chiOfThree(w)
  const flat = length * Math.sqrt(1 - up * up)
  return [length * up, flat * Math.cos(round), flat * Math.sin(round)] as const
}).flatMap(([x, y, z]) => [[x, y, z], [-x, -y, -z]] as const)

/** The length of a normal in three dimensions below which a share of them lies (Wilson and Hilferty 1931). */
function chiOfThree(share: number): number {
  const c = 2 / 27
  return Math.sqrt(3 * Math.max(0, 1 - c + standardNormal(share) * Math.sqrt(c)) ** 3)
}

/** The normal below which a share lies, within 0.0005 (Abramowitz and Stegun, 26.2.23). */
function standardNormal(share: number): number {
  if (share > 0.5) return -standardNormal(1 - share)
  const t = Math.sqrt(-2 * Math.log(share))
  return (2.515517 + 0.802853 * t + 0.010328 * t * t) / (1 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t ** 3) - t
}
