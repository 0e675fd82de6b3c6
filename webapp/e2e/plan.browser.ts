// The counting plan with no signal: asked in minutes and in stems, plants marked by one tap, taken back,
// and found again after a reload.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { go, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

const planned = (page: Page) => page.locator('.plan .say').innerText()

/** Plants counted now, by the table of beds. */
async function countedNow(page: Page): Promise<number> {
  const cells = await page.locator('.plan section', { hasText: 'In which beds' }).locator('td:nth-child(4)').allInnerTexts()
  return cells.reduce((sum, cell) => sum + Number(cell), 0)
}

it('is asked, followed by one tap and taken back with no signal', async () => {
  const { page, context } = await phones.add({ touch: true })
  await page.goto(shed.url)
  await sayWho(page)
  await readyForField(page)
  await go(page, 'beds/plan')
  await page.locator('.plan .stepper').first().waitFor() // the shed has answered
  await context.setOffline(true)

  const atTen = await planned(page)
  expect(atTen).toMatch(/^10 minutes a cut: 75 plants counted/)
  await page.getByRole('button', { name: /^More: minutes/ }).tap()
  expect(await planned(page)).toMatch(/^11 minutes a cut: 82 plants counted/)

  await page.getByRole('button', { name: 'Precision in stems' }).tap()
  expect(await planned(page)).toMatch(/^For ±3 stems on 80 of 100 farms like this one, count \d+ plants/)
  await page.getByRole('button', { name: '95', exact: true }).tap()

  const before = await countedNow(page)
  const mark = page.getByRole('button', { name: /^Count these \d+ plants$/ })
  const more = Number((await mark.innerText()).replace(/\D/g, ''))
  await mark.tap()
  await page.getByText(`${more} plants are marked as counted.`).first().waitFor()
  expect(await countedNow(page)).toBe(before + more)
  await page.getByText('As many plants are counted as the plan asks for.').waitFor()

  await page.getByRole('button', { name: 'Undo' }).tap()
  await mark.waitFor()
  expect(await countedNow(page)).toBe(before)

  await mark.tap()
  await page.getByText('As many plants are counted as the plan asks for.').waitFor()
  await page.reload()
  await page.getByText('As many plants are counted as the plan asks for.').waitFor()
  expect(await countedNow(page)).toBe(before + more)
})
