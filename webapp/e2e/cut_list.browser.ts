// The cut list on a phone with no signal: what is due less the cooler, ticking down while one cuts, enough said; and
// what a second phone cut comes in by sync.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { addDays } from '../src/crop/day'
import type { ColourID, Day, Millimetres } from '../src/crop/nouns'
import { lineFacts, orderFacts } from '../src/crop/sale_facts'
import type { BuyerID, LineID, OrderID } from '../src/crop/sale_nouns'
import { lineWith } from '../src/crop/testing/sold'
import type { Fact } from '../src/log/change'
import { violationsInBothThemes } from './accessible'
import { type CutFarm, openCutFarm } from './cut_farm'
import { Phones } from './phone'
import { countHandful, go, openWalk, readyForField } from './walk'

let farm: CutFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openCutFarm()
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

async function phone(device: number): Promise<Page> {
  const { page, context } = await phones.add()
  await page.addInitScript(() => {
    window.buzzes = []
    navigator.vibrate = (pattern) => { window.buzzes.push(JSON.stringify(pattern)); return true }
  })
  await farm.admit(context, device)
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor()
  await readyForField(page)
  return page
}

const row = (page: Page, bed: string, colour: string) => page.locator('.cut-bed', { hasText: bed }).locator('.cut-row', { hasText: colour })
const left = async (page: Page, bed: string, colour: string) => (await row(page, bed, colour).locator('.number').innerText()).trim()
const enough = JSON.stringify([60, 60, 60, 60, 240])
const buzzedEnough = (page: Page) => page.evaluate((pattern) => window.buzzes.filter((one) => one === pattern).length, enough)

it('is worked out, ticked down and said to be enough with no signal; a second phone’s cuts come in by sync', async () => {
  const [one, two] = [await phone(0), await phone(1)]
  await farm.shed.kill()

  await go(one, 'row')
  await one.getByRole('link', { name: 'Cut list: 40 stems' }).click()
  // 30 ember less 12 in the cooler, and 20 mixed, each with 5 % over: 19 and 21.
  await one.locator('.cuts-sum', { hasText: '40 stems to cut' }).waitFor()
  expect(await one.locator('.cuts-sum').innerText()).toContain('12 from the cooler')
  await one.getByText('Nobody has standing coral (60+ cm): 10 stems short for Quay Flowers', { exact: false }).waitFor()
  // Bed Alder gave 12 ember with its 6 plants yesterday: as much a plant is held of Birch's 3.
  expect([await left(one, 'Alder', 'ember'), await left(one, 'Birch', 'ember')]).toEqual(['13', '6'])
  expect(await one.locator('.cut-bed-go .name').allInnerTexts()).toEqual(['Alder', 'Birch'])
  expect(await one.getByText('€').or(one.getByText('0.00')).count()).toBe(0)
  expect(await violationsInBothThemes(one)).toEqual([])

  await row(one, 'Alder', 'ember').locator('.cut-what').click()
  await row(one, 'Alder', 'ember').getByText('Studio Nord').waitFor()
  await row(one, 'Alder', 'ember').getByText('first or better, 50+ cm').first().waitFor()

  await one.getByRole('button', { name: 'Tick off oyster' }).click()
  await row(one, 'Birch', 'oyster').getByText('Ticked off on this phone').waitFor()
  await one.reload()
  await row(one, 'Birch', 'oyster').getByRole('button', { name: 'Undo' }).click()
  await one.getByRole('button', { name: 'Tick off oyster' }).waitFor()

  await one.getByRole('button', { name: /^Alder/ }).click()
  await one.locator('.cut-line', { hasText: 'ember: 13 more here, 0 cut' }).waitFor()
  const key = one.getByRole('button', { name: /^5 stems$/ })
  await countHandful(one, 7)
  await one.locator('.cut-line', { hasText: 'ember: 6 more here, 7 cut' }).waitFor()
  await one.getByText('the browser may delete it').waitFor() // the first unsent record brings a line of its own
  const before = await key.boundingBox()
  expect(await buzzedEnough(one)).toBe(0)
  await countHandful(one, 6)
  await one.locator('.cut-line', { hasText: 'Enough ember from this bed: 13 of 13.' }).waitFor()
  expect(await buzzedEnough(one)).toBe(1)
  expect(await key.boundingBox()).toEqual(before)

  await openWalk(two, 'Birch')
  await two.locator('.cut-line', { hasText: 'ember: 6 more here' }).waitFor()
  await countHandful(two, 8)
  expect(await buzzedEnough(two)).toBe(1)
  // Out of reach each knows its own alone: 13 of the other bed's are still held to be lacking.
  await two.locator('.cut-line', { hasText: 'Enough ember from this bed: 8 of 6.' }).waitFor()

  await farm.shed.start()
  await one.locator('.cut-line', { hasText: 'Enough ember: 21 of 19. Leave the rest standing.' }).waitFor()
  await go(one, 'row/cuts')
  await row(one, 'Birch', 'ember').getByText('Enough ember: 21 of 19. Leave the rest standing.').waitFor()
  await one.locator('.cuts-sum', { hasText: '21 stems to cut' }).waitFor()

  await one.getByRole('button', { name: 'A day more' }).click()
  await one.getByRole('button', { name: 'A day more' }).click()
  await row(one, 'Cedar', 'damson').waitFor()
  expect(await left(one, 'Cedar', 'damson')).toBe('42')

  await farm.say(missed(addDays(farm.today, -1)))
  await one.getByText('10 stems are overdue: pack, move or cancel').click()
  const overdue = one.locator('.cuts-overdue li', { hasText: 'Studio Nord' })
  expect(await overdue.getByRole('link').allInnerTexts()).toEqual(['Pack', 'Move or cancel'])
  expect(await violationsInBothThemes(one)).toEqual([])
  await overdue.getByRole('link', { name: 'Move or cancel' }).click()
  await one.getByRole('link', { name: 'Studio Nord' }).waitFor()
})

/** A delivery that went out to nobody. */
function missed(due: Day): Fact[] {
  const order = 'missed' as OrderID
  return [
    ...orderFacts({ id: order, buyer: 'nord' as BuyerID, due, taken: '', note: '' }),
    ...lineFacts(lineWith({ id: 'missed-a' as LineID, order, bunches: 1, grade: '', length: 0 as Millimetres, colours: ['damson' as ColourID] })),
  ]
}

it('leaves the grid its room: nothing scrolls beside it', async () => {
  const page = await phone(2)
  await openWalk(page, 'Alder')
  await page.locator('.cut-line').waitFor()
  await page.getByRole('button', { name: 'Count by grade and length' }).click()
  await page.locator('.count-grid').waitFor()
  expect(await page.evaluate(() => [document.documentElement.scrollWidth <= innerWidth, document.documentElement.scrollHeight <= innerHeight])).toEqual([true, true])
})

declare global {
  interface Window {
    buzzes: string[]
  }
}
