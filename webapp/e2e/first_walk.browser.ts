// A newcomer on the made-up farm: the first walk from the first page to an own bed, by thumb and with nothing but what is on
// the screen, in taps and screens; left and taken up again; and the way on to an own farm. Pictures of each step, where
// CORYMB_PICTURES names a folder.

import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { violationsInBothThemes } from './accessible'
import { keptBy } from './kept'
import { laptopSize, phoneSize, Phones } from './phone'
import { openShed, type Shed } from './shed'
import { Thumb } from './thumb'
import { calledOut, countedBed, go } from './walk'

let demo: Shed
let own: Shed
const phones = new Phones()
const pictures = process.env['CORYMB_PICTURES']

beforeAll(async () => {
  if (pictures !== undefined) mkdirSync(pictures, { recursive: true })
  ;[demo, own] = await Promise.all([openShed('demo'), openShed('serve')])
})

afterAll(async () => {
  await phones.close()
  await Promise.all([demo.close(), own.close()])
})

/** On a phone; the whole page on a laptop too. */
async function pictured(page: Page, name: string): Promise<void> {
  if (pictures === undefined) return
  await page.screenshot({ path: join(pictures, `walk-${name}-phone.png`) })
  await page.setViewportSize(laptopSize)
  await page.waitForTimeout(150)
  await page.screenshot({ path: join(pictures, `walk-${name}-laptop.png`) })
  await page.setViewportSize(phoneSize)
  await page.waitForTimeout(150)
}

const line = (page: Page) => page.locator('.first-walk')
const told = async (page: Page) => (await line(page).locator('[role=status]').innerText()).replace(/\s+/g, ' ')
const step = (page: Page, text: RegExp) => expect.poll(() => told(page)).toMatch(text)

it('leads a newcomer of the made-up farm from three plants to an own bed', async () => {
  const { page } = await phones.add({ touch: true })
  const thumb = new Thumb(page)
  const button = (name: string | RegExp) => page.getByRole('button', { name })
  const show = () => thumb.tap(line(page).getByRole('link', { name: 'Take me there' }))
  await page.goto(demo.url)
  await thumb.arrive('Today')
  await pictured(page, '0-offer')
  expect(await violationsInBothThemes(page)).toEqual([])
  await thumb.tap(button('Begin the walk'))

  await step(page, /^1 of 6\. Tap a bed in Row/)
  await show()
  await thumb.arrive('Which bed?')
  await thumb.tap(button(new RegExp(`^${countedBed}`)))
  await thumb.arrive(countedBed)
  await pictured(page, '1-count')
  expect(await violationsInBothThemes(page)).toEqual([])
  for (const stems of [7, 4, 9]) {
    const plant = await calledOut(page)
    await thumb.tap(button(new RegExp(`^${stems} stems$`)))
    await expect.poll(() => calledOut(page)).not.toBe(plant)
  }

  await step(page, /^Three plants are counted.* 2 of 6\. Close the bed/)
  await pictured(page, '2-close')
  await thumb.tap(page.locator('.strip .left'))
  await thumb.tap(button(/^Close the bed \(/))
  await thumb.tap(button(/^“Nothing here”/))

  await step(page, /^The bed is closed.* 3 of 6\. Go to Shed/)
  await show()
  await thumb.arrive('Shed')
  await step(page, /^Below is the bench.* 4 of 6\. Under Beds/)
  await pictured(page, '3-bench')
  await show()
  await thumb.arrive('Ages')
  await step(page, /^These are the ages.* 5 of 6\. Under Ahead/)
  await pictured(page, '4-ages')
  await show()
  await thumb.arrive('Can I promise it?')
  for (let tens = 0; tens < 4; tens++) await thumb.tap(button('10 stems more'))
  await thumb.tap(page.getByRole('group', { name: 'Or any day of a week' }).getByRole('button').nth(7))
  await thumb.tap(page.locator('.ask-buttons').getByRole('button', { name: 'Copy the reply' }))

  await step(page, /^The ask is answered.* 6 of 6\. Plant a bed of your own/)
  await pictured(page, '5-ask')
  await show()
  await thumb.arrive('Plant a tray')
  await thumb.choose('In which bed', 'A new bed')
  await thumb.tap(button(/^Spring \d{4}$/).first())
  await thumb.tap(button(/^Plant \d+$/))
  await thumb.arrive('Planted')

  await step(page, /^That was the first walk\. For your own farm/)
  await pictured(page, '6-end')
  expect(await violationsInBothThemes(page)).toEqual([])
  await thumb.tap(line(page).getByRole('button', { name: 'Close' }))
  expect(await line(page).count()).toBe(0)
  console.log(`the first walk on the made-up farm: ${thumb}`)
  expect(thumb.taps).toBeLessThanOrEqual(30)
  expect(thumb.screens.length).toBeLessThanOrEqual(8)
})

it('can be left, is taken up again where it was on another day’s opening, and each step skipped', async () => {
  const { page } = await phones.add({ touch: true, locale: 'es-MX' })
  await page.goto(demo.url)
  await page.getByRole('button', { name: 'Empezar' }).tap()
  await step(page, /^1 de 6\. En Surco/)
  await pictured(page, 'es-1')
  await line(page).getByRole('button', { name: 'Saltar' }).tap()
  await step(page, /^2 de 6\. Cierre/)
  await line(page).getByRole('button', { name: 'Más tarde' }).tap()
  expect(await line(page).count()).toBe(0)
  await expect.poll(() => keptBy(page, 'start.walk')).toMatchObject({ state: 'left' })
  await page.reload()
  await page.locator('main').waitFor()
  await go(page, 'start')
  await page.getByText('Quedó en el paso 2 de 6.').waitFor()
  await pictured(page, 'es-left')
  await page.getByRole('button', { name: 'Seguir' }).tap()
  for (let n = 2; n <= 6; n++) {
    await step(page, new RegExp(`^${n} de 6\\.`))
    await line(page).getByRole('button', { name: 'Saltar' }).tap()
  }
  await step(page, /^Ese fue el primer recorrido\./)
})

it('is offered where an own farm plants its first bed, and leads from there to the first bed closed and the bench', async () => {
  const { page } = await phones.add({ touch: true })
  const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
  await page.goto(`${own.url}/#join/${own.firstCode}`)
  await button('Join').tap()
  await page.getByRole('textbox', { name: 'Your name' }).fill('Ana')
  await page.getByRole('textbox', { name: 'Name of the farm' }).fill('Hill farm')
  await button('Begin').tap()
  await page.getByRole('heading', { name: 'Your first bed' }).waitFor()
  await pictured(page, 'own-offer')
  await button('Begin the walk').tap()
  await step(page, /^1 of 4\. Plant your first bed/)
  await button('Yarrow').tap()
  await button(/^Spring \d{4}$/).tap()
  await button('Plant 72').tap()
  await step(page, /^A bed of your own\. 2 of 4\. Tap a bed in Row/)
  await button('Count 24, drawn at random').tap()
  await calledOut(page)
  await pictured(page, 'own-count')
  for (let n = 0; n < 3; n++) {
    const plant = await calledOut(page)
    await button('7 stems').tap()
    await expect.poll(() => calledOut(page)).not.toBe(plant)
  }
  await step(page, /3 of 4\. Close the bed/)
  await page.locator('.strip .left').tap()
  await page.getByRole('button', { name: /^Close the bed \(/ }).tap()
  await page.getByRole('button', { name: /^“Nothing here”/ }).tap()
  await step(page, /4 of 4\. Go to Shed/)
  await go(page, 'shed')
  await step(page, /^That was the first walk\. Ages and promises come/)
})
