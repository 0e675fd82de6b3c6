// Plants and their walks as a person reaches them, and the phones that do.

import type { Page } from 'playwright-core'
import type { Phone, Phones } from './phone'
import type { Shed } from './shed'
import { go, readyForField, sayWho } from './walk'

/** A phone that is ready for the field, and then has no signal. */
export async function offline(phones: Phones, shed: Shed): Promise<Phone> {
  const phone = await phones.add({ touch: true })
  await phone.page.goto(shed.url)
  await sayWho(phone.page)
  await readyForField(phone.page)
  await phone.context.setOffline(true)
  return phone
}

/** A phone that comes later and hears of everything. */
export async function another(phones: Phones, shed: Shed): Promise<Page> {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page, 'Tilda')
  return page
}

export async function openBed(page: Page, bed: string): Promise<void> {
  await go(page, 'beds')
  await page.getByRole('link', { name: new RegExp(`^${bed}`) }).click()
  await page.locator('.plants a').first().waitFor()
}

/** Opens the page of a plant by where it comes in its bed, and gives its code. */
export async function openPlant(page: Page, bed: string, nth: number): Promise<string> {
  await openBed(page, bed)
  const code = (await page.locator('.plants a b').nth(nth).innerText()).trim()
  await page.locator('.plants a').nth(nth).click()
  await page.getByRole('heading', { name: code, exact: true }).waitFor()
  return code
}

export async function openRated(page: Page, bed: string, kind: string): Promise<void> {
  await go(page, 'row')
  await page.getByRole('link', { name: `Walks through ${bed}` }).click()
  await page.getByRole('link', { name: new RegExp(`^${kind}`) }).click()
  await page.locator('.plant-card .code').waitFor()
}
