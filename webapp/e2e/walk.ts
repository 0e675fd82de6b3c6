// What a person does on the screens, in the words that the screens use.

import { expect } from 'vitest'
import type { Page } from 'playwright-core'

/** A bed of the made-up farm that has plants to count on any day of the year. */
export const countedBed = 'Elder'

/** Waits for the farm, which the demo lets any phone join, and says who counts here. */
export async function sayWho(page: Page, name = 'Maren'): Promise<void> {
  await page.getByRole('navigation').first().waitFor()
  await go(page, 'shed/settings')
  await page.getByRole('button', { name, exact: true }).click()
  await page.getByRole('button', { name, exact: true, pressed: true }).waitFor()
  await go(page, 'row')
}

/** Waits until the app says that it works with no signal. */
export async function readyForField(page: Page): Promise<void> {
  await go(page, 'shed')
  await page.getByText('Ready for the field').filter({ visible: true }).first().waitFor()
}

export async function go(page: Page, place: string): Promise<void> {
  await page.evaluate((hash) => (location.hash = hash), `#/${place}`)
}

export async function openWalk(page: Page, bed = countedBed): Promise<void> {
  await go(page, 'row')
  await page.getByRole('button', { name: new RegExp(`^${bed}`) }).click()
  await page.locator('.code').waitFor()
}

/** The code of the plant that is called out. */
export async function calledOut(page: Page): Promise<string> {
  return (await page.locator('.plant-card .code').innerText()).trim()
}

/** Taps a number of stems and waits until the next plant is called out. */
export async function countHandful(page: Page, stems: number): Promise<string> {
  const plant = await calledOut(page)
  await page.getByRole('button', { name: new RegExp(`^${stems} (more )?stems?$`) }).click()
  await expect.poll(() => calledOut(page)).not.toBe(plant)
  return plant
}

/** Stems that the walk's list shows for a plant today, as its row reads. */
export async function listed(page: Page, plant: string): Promise<string> {
  await go(page, 'row/plants')
  const row = page.getByRole('button', { name: new RegExp(plant) }).or(page.getByRole('link', { name: new RegExp(plant) }))
  const text = await row.first().innerText()
  await go(page, 'row')
  return text.replace(/\s+/g, ' ')
}

export async function everythingSent(page: Page): Promise<void> {
  await expect.poll(() => page.locator('.chip').first().innerText(), { timeout: 30_000 }).toContain('all sent')
}
