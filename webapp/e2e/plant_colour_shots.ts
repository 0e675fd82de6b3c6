// A plant's colour on its page as pictures and tests come to it: plants of the made-up farm by what is said of them, and
// heads measured in a photo from a file.

import type { Page } from 'playwright-core'
import type { ColoursAnswer } from '../src/beds/colours'
import { photoOf, sceneOf } from './colour_card'
import type { Shed } from './shed'
import { go } from './walk'

/** Plants of which the shed says so in the newest season. */
export async function plantsThat(page: Page, shed: Shed, state: string): Promise<string[]> {
  const { species } = await (await page.request.get(`${shed.url}/api/colour`, { timeout: 60_000 })).json() as ColoursAnswer
  return species.flatMap(({ report: { plant_seasons: all } }) => {
    const newest = Math.max(...all.map(({ season }) => season))
    return all.filter((one) => one.season === newest && one.state === state).map(({ plant }) => plant)
  })
}

/** Measures a head in a rendered photo, keeps both, and comes to the plant's page. */
export async function measureFromFile(page: Page, plant: string, seed: number): Promise<void> {
  await go(page, `beds/measure/${plant}`)
  await page.locator('.measure-foot input:not([capture])').setInputFiles(await photoOf(await sceneOf(seed, 'plain')))
  await page.locator('.of-stage .btn').nth(1).click()
  await page.locator('.of-light .btn').first().click()
  await page.locator('.result-told .btn.main').click()
  await page.locator('.measure-done .btn.main').click()
  await page.locator('.plant-colour').waitFor()
}
