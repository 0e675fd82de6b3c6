// The pencil sheet with no signal: what is printed, and typing it in.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { countHandful, countedBed, everythingSent, go, listed, openWalk, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function openSheet(page: Page): Promise<void> {
  await go(page, 'shed/sheet')
  await page.locator('.sheet-page select').selectOption({ label: countedBed })
  await page.getByRole('button', { name: 'Print the sheet' }).waitFor()
}

const codes = (page: Page) => page.locator('.sheet-line b').allInnerTexts()
const fields = (page: Page) => page.locator('.sheet-line input')
const stored = (page: Page) => page.locator('.sheet-line:has(.sheet-stored svg) b').allInnerTexts()
const total = (page: Page) => page.locator('.sheet-total').innerText()

describe('the pencil sheet, with no signal', () => {
  it('is typed in field by field, is stored when a field is left, and outlives a reload', async () => {
    const other = (await phones.add()).page
    await other.goto(shed.url)
    await sayWho(other, 'Joaquín')
    await openWalk(other)
    const counted = await countHandful(other, 5)
    await everythingSent(other)

    const { page } = await phones.add()
    await page.goto(shed.url)
    await sayWho(page)
    await everythingSent(page)
    await readyForField(page)
    await shed.kill()
    await page.reload()
    await openSheet(page)
    const order = await codes(page)
    expect(order).toContain(counted)
    await page.getByText('Joaquín: 5', { exact: true }).waitFor()
    expect(await total(page)).toMatch(/^0 stems/)

    await fields(page).first().fill('4')
    await page.keyboard.press('Enter')
    await page.keyboard.type('0')
    await page.keyboard.press('Enter')
    await page.keyboard.press('Enter')
    await page.keyboard.type('12')
    await page.keyboard.press('Enter')
    await expect.poll(() => stored(page)).toEqual([order[0], order[1], order[3]])
    expect(await total(page)).toMatch(/^16 stems\s+from 3 of/)

    await page.reload()
    await openSheet(page)
    await expect.poll(() => stored(page)).toEqual([order[0], order[1], order[3]])
    await fields(page).nth(3).fill('11')
    await fields(page).nth(4).fill('x')
    await fields(page).nth(5).click()
    await page.getByRole('alert').getByText('Write a whole number').waitFor()
    await fields(page).nth(4).fill('')
    await fields(page).nth(5).click()
    await expect.poll(() => total(page)).toMatch(/^15 stems\s+from 3 of/)

    await openWalk(page)
    expect(await listed(page, order[1]!)).toContain('nothing')
    await shed.start()
    await go(page, 'shed')
    await everythingSent(page)
    await go(other, 'row')
    await expect.poll(() => listed(other, order[3]!), { timeout: 20_000 }).toMatch(/ 11$/)
  })

  it('prints the plants in walk order with a box for each day, and nothing else', async () => {
    const { page, context } = await phones.add({ dark: true })
    await page.goto(shed.url)
    await sayWho(page)
    await readyForField(page)
    await context.setOffline(true)
    await openSheet(page)
    const order = await codes(page)
    await page.getByRole('button', { name: '5', exact: true }).click()
    await page.setViewportSize({ width: 703, height: 1032 }) // A4 within its margins
    await page.emulateMedia({ media: 'print' })
    const paper = page.locator('.sheet-paper')
    expect(await paper.isVisible()).toBe(true)
    expect(await paper.locator('tbody .sheet-code').allInnerTexts()).toEqual(order)
    expect(await paper.locator('tbody tr').first().locator('.sheet-box').count()).toBe(5)
    expect(await paper.locator('.sheet-name').innerText()).toContain(countedBed)
    const sizes = await paper.locator('tbody tr').first().locator('.sheet-box').evaluateAll((boxes) =>
      boxes.map((box) => [box.getBoundingClientRect().width, box.getBoundingClientRect().height].map((px) => Math.floor(px / (96 / 25.4)))))
    for (const [width, height] of sizes) expect([width! >= 18, height! >= 9]).toEqual([true, true])
    for (const hidden of ['nav', '.sheet-print', '.sheet-typing', '.page-head']) {
      expect([hidden, await page.locator(hidden).first().isVisible()]).toEqual([hidden, false])
    }
    expect(await paper.evaluate((element) => getComputedStyle(element).color)).toBe('rgb(0, 0, 0)')
    expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe('rgb(255, 255, 255)')
  })
})
