// An ask answered on a phone away from the farm: the chance, the reply copied within six taps, stems promised and taken back,
// asks kept and answered otherwise, and promises that clash.

import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays } from '../src/crop/day'
import { violationsAlong } from './accessible'
import { Phones } from './phone'
import { admitTo, forecastAnswer, openPromiseFarm, promisedAsk, type PromiseFarm, today } from './promise_farm'
import { go, readyForField } from './walk'

let farm: PromiseFarm
const phones = new Phones()
const answer = forecastAnswer({ weeks: 10, draws: 200 })

beforeAll(async () => {
  farm = await openPromiseFarm({ promises: 6 })
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

async function phoneOf(cookie: string, told: typeof answer | null = answer): Promise<{ page: Page; context: BrowserContext }> {
  const { page, context } = await phones.add({ touch: true })
  await context.grantPermissions(['clipboard-read', 'clipboard-write'], { origin: farm.shed.url })
  await admitTo(context, farm, cookie, told ?? undefined)
  await page.goto(farm.shed.url)
  await readyForField(page)
  return { page, context }
}

const sees = (page: Page, text: string | RegExp) => page.getByText(text).filter({ visible: true }).first().waitFor()
const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' }).filter({ visible: true }).first()
const clipboard = (page: Page) => page.evaluate(() => navigator.clipboard.readText())
const aDay = addDays(today, 9)
const chip = (day: string) => new RegExp(`^${new Intl.DateTimeFormat('en-US', { weekday: 'short', timeZone: 'UTC' }).format(new Date(day))} .*${Number(day.slice(8))}`)

/** Counts the taps of a thumb; what is typed into a field that has the focus is none. */
function thumb() {
  let taps = 0
  return { tap: async (what: ReturnType<Page['locator']>) => { taps++; await what.tap() }, get taps() { return taps } }
}

describe('an ask on a phone with no signal', () => {
  let [page, context]: [Page?, BrowserContext?] = []

  beforeAll(async () => {
    ;({ page, context } = await phoneOf(farm.owner))
    await go(page, 'row')
    await context.setOffline(true)
  })

  it('is answered and its reply copied within six taps from opening the app', async () => {
    const hand = thumb()
    await hand.tap(page!.getByRole('link', { name: /^Ahead/ }))
    await hand.tap(page!.getByRole('link', { name: 'Can I promise it?' }))
    await hand.tap(page!.getByLabel('Stems', { exact: true }).last())
    await page!.keyboard.type('900')
    await hand.tap(button(page!, chip(aDay)))
    await hand.tap(button(page!, 'ember'))
    await sees(page!, /Safe at nine in ten/)
    expect(await page!.locator('.weeks-figure .is-asked').count()).toBe(1)
    await hand.tap(page!.locator('.ask-do').getByRole('button', { name: 'Copy the reply' }))
    await sees(page!, 'The reply is copied')
    expect(hand.taps).toBeLessThanOrEqual(6)
    expect(await clipboard(page!)).toMatch(/We can promise \d+ stems for .*: ember\.\nYou asked for 900/)
  })

  it('is promised and the reply copied within six taps, as a line of an order', async () => {
    await go(page!, 'row')
    await page!.reload()
    await page!.getByRole('link', { name: /^Ahead/ }).waitFor()
    const hand = thumb()
    await hand.tap(page!.getByRole('link', { name: /^Ahead/ }))
    await hand.tap(page!.getByRole('link', { name: 'Can I promise it?' }))
    await hand.tap(page!.getByLabel('Stems', { exact: true }).last())
    await page!.keyboard.type('30')
    await hand.tap(button(page!, chip(aDay)))
    await hand.tap(button(page!, 'Studio Nord'))
    await hand.tap(button(page!, 'Promise 30'))
    await sees(page!, '30 stems promised to Studio Nord')
    expect(hand.taps).toBeLessThanOrEqual(6)
    await expect.poll(() => clipboard(page!)).toMatch(/^Yes: 30 stems for /)
    await page!.getByRole('link', { name: 'Open the order' }).tap()
    await sees(page!, /3 bunches of 10/)
    await page!.goBack()
  })

  it('is promised to whom it turns out to be for, and taken back', async () => {
    await button(page!, 'Ask again').tap()
    await page!.getByLabel('Stems', { exact: true }).last().fill('20')
    await button(page!, chip(aDay)).tap()
    await button(page!, 'Promise 20').tap()
    await page!.getByRole('group', { name: 'Who asks' }).getByRole('button', { name: 'Petra Quint' }).last().tap()
    await sees(page!, '20 stems promised to Petra Quint')
    await button(page!, 'Undo').tap()
    await button(page!, 'Promise 20').waitFor()
  })

  it('of a week is answered for its best day; of a day behind the season that is said', async () => {
    await page!.getByRole('button', { name: /^w\d+/ }).nth(2).tap()
    await sees(page!, /^Best for /)
    await page!.getByLabel('Another day').fill(addDays(today, 200))
    await sees(page!, /The forecast ends on /)
    await page!.getByLabel('Another day').fill(addDays(today, -1))
    await sees(page!, 'That day is over')
  })

  it('is kept, met or not: answered otherwise, taken away, and each taken back', async () => {
    await go(page!, 'ahead/asks')
    await sees(page!, 'Asked for and not promised')
    const open = page!.locator('section', { hasText: 'Open' }).first()
    await open.locator('summary').first().tap()
    await open.getByRole('button', { name: 'Bought elsewhere' }).tap()
    await sees(page!, 'Kept: they bought elsewhere.')
    await sees(page!, 'They bought elsewhere.')
    await button(page!, 'Undo').tap()
    await sees(page!, /^Open; /)
    await page!.getByText('Promised.', { exact: false }).first().tap()
    await button(page!, 'Kept by mistake').tap()
    await sees(page!, 'The ask is taken away.')
    await button(page!, 'Undo').tap()
    await sees(page!, /^Promised\./)
  })

  it('everybody can use the pages', async () => {
    await context!.setOffline(false)
    const found = await violationsAlong(page!, [
      ['an ask to be typed', async (at) => { await go(at, 'ahead'); await go(at, 'ahead/ask') }],
      ['an answer', async (at) => {
        await at.getByLabel('Stems', { exact: true }).last().fill('400')
        await button(at, chip(aDay)).click()
        await sees(at, 'What would help')
        await at.locator('.ask-least summary').first().click()
      }],
      ['the asks', async (at) => { await go(at, 'ahead/asks'); await at.locator('.ask-row summary').first().click() }],
    ])
    expect(found).toEqual([])
  })
})

it('a crew phone answers, and neither promises nor shows money', async () => {
  const { page } = await phoneOf(farm.crew)
  await go(page, 'ahead/ask')
  await page.getByLabel('Stems', { exact: true }).last().fill('30')
  await button(page, chip(aDay)).click()
  await sees(page, 'Anybody may ask; only owners promise.')
  expect(await page.getByRole('button', { name: /^Promise/ }).count()).toBe(0)
  expect(await page.locator('main').innerText()).not.toMatch(/€|EUR/)
  await page.close()
})

it('without a forecast it is said what to do', async () => {
  const { page } = await phoneOf(farm.owner, null)
  await go(page, 'ahead/ask')
  await sees(page, 'There is no forecast on this device yet.')
  await page.close()
})

it('promises made apart that clash need a look, and are settled', async () => {
  const due = addDays(today, 12)
  await farm.say([...promisedAsk('apart-1', 900, due, { chance: 950 }), ...promisedAsk('apart-2', 900, due, { chance: 950 })])
  const { page } = await phoneOf(farm.owner)
  await go(page, 'shed')
  const card = page.locator('.looks .card', { hasText: 'Two people may have promised' }).first()
  await card.waitFor()
  await card.getByRole('button', { name: /^Copy a message/ }).click()
  await expect.poll(() => clipboard(page)).toMatch(/^For .* we can be sure of|As it stands we can be sure of \d+/)
  const before = await page.locator('.looks .card').count()
  await card.getByRole('button', { name: 'It is all right' }).click()
  await sees(page, 'The promise stands as it is.')
  await expect.poll(() => page.locator('.looks .card').count(), { timeout: 15_000 }).toBe(before - 1)
})
