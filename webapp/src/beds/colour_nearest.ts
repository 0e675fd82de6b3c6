// Which plants come nearest to a colour that is wanted.

import { decoded, labOfRGB, sRGB } from '../colour/rgb'
import type { Lab } from '../colour/lab'
import { distance, type Distance } from '../crop/measured_colour'
import type { StandPlant } from './colour_stand'

export interface Near extends Distance {
  readonly one: StandPlant
}

/** In order of their distance. */
export function nearestPlants(plants: readonly StandPlant[], wanted: Lab): Near[] {
  return plants.map((one) => ({ one, ...distance(wanted, one.colour) })).sort((a, b) => a.away - b.away)
}

/** "#rrggbb"; undefined where it is none. */
export function labOfHex(written: string): Lab | undefined {
  const [, r, g, b] = /^#?([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(written.trim())?.map((part) => decoded(Number.parseInt(part, 16) / 255)) ?? []
  return r === undefined || g === undefined || b === undefined ? undefined : labOfRGB({ r, g, b }, sRGB)
}

/** Three numbers as they are typed; undefined where they are no colour. */
export function labTyped(L: string, a: string, b: string): Lab | undefined {
  const [light, red, yellow] = [L, a, b].map(numberTyped)
  if (light === undefined || red === undefined || yellow === undefined) return undefined
  return light >= 0 && light <= 100 && Math.abs(red) <= mostAB && Math.abs(yellow) <= mostAB ? { L: light, a: red, b: yellow } : undefined
}

/** What no measurement exceeds; the shed refuses more. */
const mostAB = 200

/** With a comma or a point; a minus as it comes from whichever keyboard. */
export function numberTyped(written: string): number | undefined {
  const plain = written.trim().replace(',', '.').replace('\u2212', '-')
  return /^-?\d+(\.\d*)?$/.test(plain) ? Number(plain) : undefined
}
