// The phone in a pocket: locked against taps, counted by keys that somebody chose.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { calledOut, go, listed, openWalk, sayWho } from './walk'

let shed: Shed
let page: Page
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** A phone of its own, on a walk. */
async function onAWalk(): Promise<void> {
  page = (await phones.add()).page
  await page.goto(shed.url)
  await sayWho(page)
  await openWalk(page)
}

const button = (name: string | RegExp) => page.getByRole('button', { name })
const locked = () => page.getByRole('dialog', { name: 'Locked' })

async function pressFor(ms: number): Promise<void> {
  const box = await button('Hold to unlock').boundingBox()
  await page.mouse.move(box!.x + 20, box!.y + 20)
  await page.mouse.down()
  await page.waitForTimeout(ms)
  await page.mouse.up()
}

describe('locked', () => {
  beforeAll(onAWalk)

  beforeEach(async () => {
    if (!(await locked().isVisible())) await button('Lock for the pocket').click()
    await locked().waitFor()
  })

  it('counts no tap, wherever it falls', async () => {
    const before = await page.locator('.lock-now').innerText()
    for (let x = 20; x < 360; x += 40) for (let y = 20; y < 740; y += 90) await page.mouse.click(x, y)
    expect(await locked().isVisible()).toBe(true)
    expect(await page.locator('.lock-now').innerText()).toBe(before)
  })

  it('counts keys all the same, and says what', async () => {
    const plant = await calledOut(page)
    await page.keyboard.press('3')
    await locked().getByText(`Last: ${plant}, 3 stems`).waitFor()
    await page.keyboard.press('Backspace')
    await locked().getByText(`Called out now: ${plant}`, { exact: false }).waitFor()
  })

  it('opens to a second’s hold and to nothing shorter', async () => {
    await pressFor(500)
    await page.waitForTimeout(800)
    expect(await locked().isVisible()).toBe(true)
    await pressFor(1300)
    await expect.poll(() => locked().count()).toBe(0)
  })

  it('opens to a key that is held', async () => {
    await page.keyboard.down(' ')
    await page.waitForTimeout(1300)
    await page.keyboard.up(' ')
    await expect.poll(() => locked().count()).toBe(0)
  })

  it('stays locked, and on the walk, when a gesture goes elsewhere', async () => {
    await page.goBack()
    await expect.poll(() => page.evaluate(() => location.hash)).toBe('#/row')
    await page.keyboard.press('Escape')
    expect(await locked().isVisible()).toBe(true)
  })
})

describe('a key that somebody chose', () => {
  beforeEach(onAWalk)

  async function choose(action: string, key: string): Promise<void> {
    await go(page, 'shed/keys')
    await button(`Choose a key: ${action}`).click()
    await page.getByText('Press the key now', { exact: false }).waitFor()
    await page.keyboard.press(key)
  }

  it('counts on the grid where a stem was counted last, once however long it is held, and presses nothing beside it', async () => {
    await choose('grid: one more in the last cell', 'Enter')
    await page.getByRole('main').getByText('Enter now does', { exact: false }).waitFor()
    await go(page, 'row')
    await button('Count by grade and length').click()
    const plant = await calledOut(page)
    const cell = button(/^first, 50 to 60 centimetres/)
    const before = Number(await cell.innerText())
    await cell.click() // and it is in focus, where Enter would press it
    for (let press = 0; press < 2; press++) await page.keyboard.press('Enter')
    await page.keyboard.down('Enter')
    for (let again = 0; again < 5; again++) await page.keyboard.down('Enter')
    await page.keyboard.up('Enter')
    await expect.poll(async () => Number(await cell.innerText())).toBe(before + 4)
    await page.waitForTimeout(300)
    expect(await listed(page, plant)).toMatch(new RegExp(` ${before + 4}$`))
  })

  it('says what it took the key from, holds after a reload, and goes back', async () => {
    await choose('nothing here, and on', '5')
    await page.getByRole('main').getByText('5 now does: nothing here, and on. It did before: the digit 5.').waitFor()
    await page.reload()
    await button('Take the chosen key off: nothing here, and on').waitFor()
    await go(page, 'row')
    const plant = await calledOut(page)
    await page.keyboard.press('5')
    await expect.poll(() => calledOut(page)).not.toBe(plant)
    expect(await listed(page, plant)).toContain('nothing')
    await go(page, 'shed/keys')
    await button('Back to the usual keys').click()
    await page.getByRole('main').getByText('The usual keys hold again.').waitFor()
  })

  it('does nothing while somebody types', async () => {
    await choose('take back', 'a')
    await go(page, 'row')
    await calledOut(page) // keys count once the walk is on the screen
    await page.keyboard.press('4')
    await button(/^Take back 4 from/).waitFor()
    await go(page, 'row/plants')
    await page.getByRole('textbox', { name: 'Go to a code or a place' }).pressSequentially('aa')
    await go(page, 'row')
    await button(/^Take back 4 from/).waitFor()
  })
})
