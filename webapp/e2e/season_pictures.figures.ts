// Pictures of the season's pages on the made-up farm: the division plan and its walk, asks, the weeks to come, past
// forecasts, tasks and the weather, on a phone and a laptop, light and dark, in both languages, to be looked at by a person.
// They are written to the folder that CORYMB_PICTURES names, else to one that is told.

import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { laptopSize, type PhoneOptions, Phones, phoneSize, setClock } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { go, sayWho } from './walk'

const patience = 600_000
const folder = process.env['CORYMB_PICTURES'] ?? scratchFolder('pictures')
const looks: readonly [string, PhoneOptions][] = [
  ['phone-light', { size: phoneSize }],
  ['phone-dark', { size: phoneSize, dark: true }],
  ['phone-spanish', { size: phoneSize, locale: 'es-MX' }],
  ['laptop-light', { size: laptopSize }],
  ['laptop-dark', { size: laptopSize, dark: true }],
  ['laptop-spanish', { size: laptopSize, locale: 'es-MX' }],
]

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  mkdirSync(folder, { recursive: true })
  shed = await openShed('demo')
}, patience)

afterAll(async () => {
  await phones.close()
  await shed.close()
  console.log(`pictures are in ${folder}`)
})

const unfolded = (page: Page) => page.evaluate(() => document.querySelectorAll('details').forEach((one) => { one.open = true }))

describe.each(looks)('on a %s', (look, options) => {
  const shot = async (page: Page, name: string) => {
    await page.waitForTimeout(500)
    const width = await page.evaluate(() => document.documentElement.scrollWidth)
    const cut = await page.evaluate(() => [...document.querySelectorAll('.scroll')].filter((one) => one.scrollWidth > one.clientWidth).length)
    await page.screenshot({ path: join(folder, `season-${name}-${look}.png`), fullPage: true })
    expect.soft(width, `${name} is wider than the screen`).toBeLessThanOrEqual(options.size!.width)
    expect.soft(cut, `${name}: a table has to be drawn aside`).toBe(0)
  }

  it('the division plan and its walk', { timeout: patience }, async () => {
    const { page } = await phones.add(options)
    await page.goto(shed.url)
    await sayWho(page)
    await go(page, 'ahead/division')
    await page.locator('.asked').waitFor()
    await shot(page, 'division-asked')
    await page.locator('.wanted-stems > summary').click()
    await page.locator('.wanted-form select').selectOption({ index: 2 })
    await page.locator('.wanted-form input[type=date]').fill('2028-05-31')
    await page.locator('.wanted-form input[inputmode=numeric]').fill('120')
    await page.locator('.wanted-form button').click()
    await page.locator('.wanted-stems input[type=checkbox]').first().uncheck()
    await shot(page, 'division-wanted')
    await page.locator('.asked .btn.main').click()
    await page.locator('.decided').waitFor({ timeout: patience })
    await shot(page, 'division-planned')
    await unfolded(page)
    await page.locator('.decided .fold').first().click()
    await page.locator('.cost-field input').nth(0).fill('18,50')
    await page.locator('.cost-field input').nth(1).fill('6.5')
    await page.locator('.costs button[type=submit]').click()
    await shot(page, 'division-open')
    await page.locator('.take .btn').first().click()
    await page.locator('.undoable').first().waitFor()
    await go(page, 'row/divide')
    await page.locator('.divide-what').first().waitFor()
    await shot(page, 'divide-walk')
    await page.locator('.divide-care summary').click()
    await page.locator('.divide-line .btn').nth(1).click()
    await shot(page, 'divide-walk-open')
  })

  it('what is ahead, asked for and to be done', { timeout: patience }, async () => {
    const { page, context } = await phones.add(options)
    await setClock(context, Date.UTC(new Date().getUTCFullYear() + 1, 3, 27, 9)) // the shed's own stays what it really is
    await page.goto(shed.url)
    await sayWho(page)
    const there = [
      ['ahead', '.weeks-figure'], ['ahead/asks', 'table'], ['ahead/weeks', '.papers-page .choices'], ['ahead/scores', '.scores-table'], ['ahead/tasks', '.task'],
      ['ahead/weather', '.weather-keys'], ['row', '.rows'],
    ] as const
    for (const [place, mark] of there) {
      await go(page, place)
      await page.locator(mark).first().waitFor({ timeout: patience })
      await shot(page, place.replace('/', '-'))
    }
    await unfolded(page)
    await shot(page, 'row-open')
  })
})
