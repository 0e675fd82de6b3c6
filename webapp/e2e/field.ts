// A bed of 300 plants of which 30 are counted, and a flush day in it, from a fixed seed: 500 stems,
// every plant that is cut gives at least one. Made up for tests, like everything here.

import { execFileSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import type { Shed } from './shed'

export const fieldBed = 'Field'
export const fieldPlants = 300
export const fieldCounted = 30
export const fieldStems = 500

export interface FieldPlant {
  readonly code: string
  readonly counted: boolean
  readonly stems: number
}

/** The plants line by line as they stand, each with what it gives on the day. */
export function flushDay(seed: number): FieldPlant[] {
  const random = randomFrom(seed)
  const stems = stemsOf(fieldPlants, fieldStems, random)
  return stems.map((n, i) => ({
    code: `F${String(i + 1).padStart(3, '0')}`, counted: i % (fieldPlants / fieldCounted) === 4, stems: n,
  }))
}

/** Fills an empty folder with the farm. */
export function importField(data: string, plants: readonly FieldPlant[], year: number): void {
  const rows = plants.map(({ code, counted }) => {
    const window = counted ? `${year},${year}-01-01,${year}-12-31` : `${year},,`
    return `${code},strain,${fieldBed},${year - 1}-09-20,${window},rosehip`
  })
  const [plantsFile, cutsFile] = [join(data, 'plants.csv'), join(data, 'cuts.csv')]
  writeFileSync(plantsFile, ['plant,stock,bed,planted,first_season,counted_from,counted_to,colour', ...rows].join('\n'))
  writeFileSync(cutsFile, 'date,plant,stock,bed,planted,age,flush,grade,length_cm,stems,grader\n')
  execFileSync(process.env['CORYMB_BINARY']!, ['import', '-plants', plantsFile, '-cuts', cutsFile, '-data', data])
}

/** Makes a page the farm's first owner. */
export async function joinFirst(page: Page, shed: Shed): Promise<void> {
  await page.goto(`${shed.url}/#join/${shed.firstCode}`)
  await page.getByRole('button', { name: 'Join', exact: true }).click()
  await page.getByRole('textbox', { name: 'Your name' }).fill('Maren')
  await page.getByRole('textbox', { name: 'Name of the farm' }).fill('Field')
  await page.getByRole('button', { name: 'Begin' }).click()
  await page.getByRole('navigation').first().waitFor()
}

/**
 * Numbers of at least one that add up to a total: one each, and the rest by a Pólya urn, which makes
 * them negative binomial given their sum: most small, a few above nine.
 */
function stemsOf(plants: number, total: number, random: () => number): number[] {
  const stems = Array.from({ length: plants }, () => 1)
  const weights = stems.map(() => size)
  for (let left = total - plants; left > 0; left--) {
    let at = random() * weights.reduce((sum, one) => sum + one, 0)
    let i = 0
    while (at >= weights[i]! && i < plants - 1) at -= weights[i++]!
    stems[i]!++
    weights[i]!++
  }
  return stems
}

/** Of the negative binomial: the smaller, the more unlike the plants. */
const size = 0.25

/** Mulberry32, for no more than a repeatable day. */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), state | 1)
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
}
