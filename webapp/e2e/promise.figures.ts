// How long a phone takes to answer an ask: 40 open promises, 500 draws of 20 weeks, five colours, four length classes, on a
// processor slowed four times. From the tap on a day or a week until its answer stands on the page, drawing included.
// Pictures of the pages go to the folder that CORYMB_PICTURES names.

import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { laptopSize, type PhoneOptions, Phones, phoneSize } from './phone'
import { addDays } from '../src/crop/day'
import { admitTo, forecastAnswer, openPromiseFarm, promisedAsk, type PromiseFarm, today } from './promise_farm'
import { scratchFolder } from './shed'
import { go } from './walk'

const slowed = 4
const patience = 300_000

let farm: PromiseFarm
const phones = new Phones()
const answer = forecastAnswer({ weeks: 20, draws: 500 })
const folder = process.env['CORYMB_PICTURES'] ?? scratchFolder('pictures')

beforeAll(async () => {
  farm = await openPromiseFarm({ promises: 40 })
  mkdirSync(folder, { recursive: true })
}, patience)

afterAll(async () => {
  await phones.close()
  await farm.close()
  console.log(`pictures are in ${folder}`)
})

async function asking(options: PhoneOptions): Promise<Page> {
  const { page, context } = await phones.add(options)
  await admitTo(context, farm, farm.owner, answer)
  await page.goto(`${farm.shed.url}/#/ahead/ask`)
  await page.locator('.ask-stems input').fill('200')
  return page
}

/** Milliseconds from each tap on a choice of a row until the answer to it is on the page. */
async function answered(page: Page, row: number, taps: readonly number[]): Promise<number[]> {
  const took: number[] = []
  for (const nth of taps) {
    took.push(await page.evaluate(([inRow, at]) => new Promise<number>((resolve) => {
      const chip = document.querySelectorAll('.chips')[inRow!]!.querySelectorAll('button')[at!]!
      const begun = performance.now()
      new MutationObserver((_, observer) => {
        if (chip.getAttribute('aria-pressed') !== 'true' || !document.querySelector('.ask-told')) return
        observer.disconnect()
        resolve(performance.now() - begun)
      }).observe(document.querySelector('main')!, { subtree: true, childList: true, characterData: true, attributes: true })
      chip.click()
    }), [row, nth]))
    await page.waitForTimeout(2_500) // what would help is tried meanwhile
  }
  return took.map(Math.round)
}

function middle(took: readonly number[]): number {
  return [...took].sort((a, b) => a - b)[took.length >> 1]!
}

it('an ask is answered in time', { timeout: patience }, async () => {
  const page = await asking({ size: phoneSize })
  await page.waitForTimeout(3_000)
  const cpu = await page.context().newCDPSession(page)
  await cpu.send('Emulation.setCPUThrottlingRate', { rate: slowed })
  const days = await answered(page, 0, [3, 5, 7, 9, 4, 6, 8])
  const weeks = await answered(page, 1, [2, 4, 6, 3, 5])
  console.log(`ms from tap to answer at ${slowed}x: of a day ${days.join(' ')}; of any day of a week ${weeks.join(' ')}`)
  // What else the machine does only adds to it.
  expect(middle(days)).toBeLessThan(50)
  expect(middle(weeks)).toBeLessThan(50)
})

it.each<[string, PhoneOptions]>([
  ['phone-light', { size: phoneSize }], ['phone-dark', { size: phoneSize, dark: true }], ['laptop-light', { size: laptopSize }], ['laptop-dark', { size: laptopSize, dark: true }],
  ['phone-spanish', { size: phoneSize, locale: 'es-MX' }],
])('pictures on a %s', { timeout: patience }, async (look, options) => {
  const page = await asking(options)
  const shot = async (name: string, fullPage = false) => {
    await page.waitForTimeout(500)
    await page.screenshot({ path: join(folder, `promise-${name}-${look}.png`), fullPage })
  }
  await shot('typed')
  await page.locator('.chips').nth(0).locator('button').nth(8).click()
  await page.locator('.chips').nth(2).locator('button').nth(4).click()
  await page.locator('.ask-helps').waitFor()
  await page.evaluate(() => scrollTo(0, 0))
  await shot('answer')
  await shot('answer-whole', true)
  await page.locator('.ask-least summary').first().click()
  await page.evaluate(() => scrollTo(0, 0))
  await shot('least')
  await page.locator('.chips').nth(3).locator('button').nth(1).click()
  await page.locator('.ask-do .btn.main').click()
  await page.locator('.undoable').waitFor()
  await shot('promised', true)
  await go(page, 'ahead/asks')
  await page.locator('.ask-row summary').first().click()
  await shot('asks', true)
})

it('a picture of promises that clash', { timeout: patience }, async () => {
  const due = addDays(today, 12)
  await farm.say([...promisedAsk('apart-1', 900, due, { chance: 950 }), ...promisedAsk('apart-2', 900, due, { chance: 950 })])
  const page = await asking({ size: phoneSize })
  await go(page, 'shed')
  await page.locator('.looks .card').first().scrollIntoViewIfNeeded()
  await page.locator('.looks').screenshot({ path: join(folder, 'promise-clash.png') })
})
