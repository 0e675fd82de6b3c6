// What of a page not everybody can use.

import axe, { type RunOptions } from 'axe-core'
import type { Page } from 'playwright-core'
import { laptopSize } from './phone'

/**
 * What axe-core finds, and whether the page scrolls sideways. Of what is in order axe is asked for no elements: to
 * name each of a long list and to send all to the test takes longer than to look at them.
 */
export async function violations(page: Page, options: RunOptions = {}): Promise<string[]> {
  await drawn(page)
  // A page of an app without reloads is asked many times over: half a megabyte of axe-core is read once.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source)
  return page.evaluate(async (how) => {
    const { violations: found } = await window.axe.run(document, { resultTypes: ['violations'], ...how })
    const wide = document.documentElement.scrollWidth - innerWidth
    return [
      ...found.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(' ')).join(', ')}`),
      ...(wide > 0 ? [`wider than the screen by ${wide} px`] : []),
    ]
  }, options)
}

/**
 * The same of a page in both themes, without reaching it twice. In the other theme its elements are the very same
 * and only colours are others: so only axe-core's rules on colour are asked there.
 */
export async function violationsInBothThemes(page: Page): Promise<string[]> {
  const found = (await violations(page)).map((one) => `light: ${one}`)
  await inTheme(page, 'dark')
  found.push(...(await violations(page, { runOnly: { type: 'tag', values: ['cat.color'] } })).map((one) => `dark: ${one}`))
  await inTheme(page, 'light')
  return found
}

/** The same of a phone's page, and of the page as a laptop shows it. */
async function violationsEverywhere(page: Page): Promise<string[]> {
  const found = await violationsInBothThemes(page)
  const phone = page.viewportSize()
  await page.setViewportSize(laptopSize)
  found.push(...(await violations(page)).map((one) => `laptop: ${one}`))
  if (phone) await page.setViewportSize(phone)
  return found
}

/** A page by its name, and how one gets there from the one before. */
export type Reached = readonly [string, (page: Page) => Promise<unknown>]

/** What is found on each of some pages, one reached after the other: only those on which something is. */
export async function violationsAlong(page: Page, pages: readonly Reached[]): Promise<[string, string[]][]> {
  const found: [string, string[]][] = []
  for (const [name, reach] of pages) {
    await reach(page)
    await drawn(page)
    await page.waitForTimeout(150) // a frame or two for what comes from the notebook
    found.push([name, await violationsEverywhere(page)])
  }
  return found.filter(([, list]) => list.length > 0)
}

/** Until a page of the app is there: on a busy machine nothing of it is for a while, which has no heading either. */
export async function drawn(page: Page): Promise<void> {
  await page.locator('h1').first().waitFor({ state: 'attached' })
}

async function inTheme(page: Page, theme: 'light' | 'dark'): Promise<void> {
  await page.emulateMedia({ colorScheme: theme })
  await page.waitForFunction((wanted) => document.documentElement.dataset['theme'] === wanted, theme)
}
