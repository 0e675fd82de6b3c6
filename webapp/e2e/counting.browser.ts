// What a walk offers beside counting: jumping, closing the bed, cut to order, whom to call out, and
// the grid on the narrowest phone.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { calledOut, countHandful, go, listed, openWalk, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function walking(options: Parameters<Phones['add']>[0] = {}, bed?: string): Promise<Page> {
  const { page } = await phones.add(options)
  await page.goto(shed.url)
  await sayWho(page)
  await openWalk(page, bed)
  return page
}

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name })

async function jumpTo(page: Page, typed: string): Promise<void> {
  await go(page, 'row/plants')
  await page.getByRole('textbox', { name: 'Go to a code or a place' }).fill(typed)
  await page.keyboard.press('Enter')
}

describe('jumping', () => {
  it('goes to a code typed carelessly, and to a place', async () => {
    const page = await walking()
    await jumpTo(page, '3a6-tt')
    await expect.poll(() => calledOut(page)).toBe('3A6 TTX')
    await jumpTo(page, '1 9')
    await expect.poll(() => calledOut(page)).toBe('3DP Q4K')
  })

  it('counts nothing by the digits that are typed in the field', async () => {
    const page = await walking()
    const before = await page.locator('.totals').innerText()
    await go(page, 'row/plants')
    await page.getByRole('textbox', { name: 'Go to a code or a place' }).pressSequentially('147')
    await page.getByText('No standing plant has this code', { exact: false }).waitFor()
    await go(page, 'row')
    await page.locator('.totals').waitFor()
    expect(await page.locator('.totals').innerText()).toBe(before)
  })

  it('finds a plant of another bed, and calls it out there', async () => {
    const page = await walking()
    await jumpTo(page, '3EK YGC')
    await page.getByRole('heading', { name: 'Gate' }).waitFor()
    expect(await calledOut(page)).toBe('3EK YGC')
  })
})

describe('every plant', () => {
  it('is called out in a bed without counted plants, and never told to bear nothing', async () => {
    const page = await walking({}, 'Well')
    const plant = await calledOut(page)
    expect(await button(page, 'Nothing here').count()).toBe(0)
    await button(page, 'Next plant').click()
    await expect.poll(() => calledOut(page)).not.toBe(plant)
  })

  it('is called out where that was chosen, also after a reload', async () => {
    const page = await walking()
    await go(page, 'row/plants')
    await button(page, /^every plant/).click()
    const all = await page.locator('.walk-list .line').count()
    await page.reload()
    await page.locator('.walk-list .line').first().waitFor()
    expect(await page.locator('.walk-list .line').count()).toBe(all)
    expect(all).toBeGreaterThan(20)
  })
})

describe('cut to order', () => {
  it('is remembered for the bed, and for no other', async () => {
    const page = await walking()
    await button(page, /^Cut clean/).click()
    await button(page, /^Cut to order/).waitFor()
    await page.reload()
    await button(page, /^Cut to order/).waitFor()
    await jumpTo(page, '3EK YGC')
    await button(page, /^Cut clean/).waitFor()
  })
})

describe('the grid on a phone 360 px wide', () => {
  it('shows five lengths in cells of 60 px, and nothing scrolls but the grid', async () => {
    const page = await walking()
    await button(page, 'Count by grade and length').click()
    const cells = await page.locator('.count-grid .cell:not(.more)').evaluateAll((all) => all.map((cell) => {
      const { left, right, width, height } = cell.getBoundingClientRect()
      return { whole: left >= 0 && right <= innerWidth, width, height }
    }))
    expect(cells.filter(({ whole }) => whole)).toHaveLength(20)
    expect(cells.filter(({ width, height }) => width < 60 || height < 60)).toEqual([])
    expect(await page.evaluate(() => [document.documentElement.scrollWidth <= innerWidth, document.documentElement.scrollHeight <= innerHeight])).toEqual([true, true])
  })

  it('adds five once, says so, and takes five back', async () => {
    const page = await walking()
    await button(page, 'Count by grade and length').click()
    const plant = await calledOut(page)
    await button(page, 'The next tap adds 5').click()
    const cell = button(page, /^extra, 40 to 50 centimetres/)
    const before = Number(await cell.innerText())
    await cell.click()
    await expect.poll(async () => Number(await cell.innerText())).toBe(before + 5)
    await cell.click()
    await expect.poll(async () => Number(await cell.innerText())).toBe(before + 6)
    await button(page, `Take back 1 extra, 40 cm from ${plant}`).click()
    await button(page, `Take back 5 extra, 40 cm from ${plant}`).click()
    await expect.poll(async () => Number(await cell.innerText())).toBe(before)
  })

  it('takes in another length for today, also after a reload', async () => {
    const page = await walking()
    await button(page, 'Count by grade and length').click()
    await button(page, 'Another length').click()
    await button(page, '90 cm').click()
    await button(page, /^first, 90 to 100 centimetres/).waitFor()
    await page.reload()
    await button(page, /^first, 90 to 100 centimetres/).waitFor()
  })

  it('takes a finger’s flick for a stem and the next plant, and a finger that slips for a tap', async () => {
    const page = await walking({ touch: true })
    await button(page, 'Count by grade and length').click()
    const touching = await page.context().newCDPSession(page)
    const touch = async (by: readonly (readonly [number, number])[]) => {
      const box = await button(page, /^second, 50 to 60 centimetres/).boundingBox()
      const [x, y] = [box!.x + 30, box!.y + 30]
      await touching.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x, y }] })
      for (const [dx, dy] of by) await touching.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: x + dx, y: y + dy }] })
      await touching.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    }
    const plant = await calledOut(page)
    const before = Number(/\d*$/.exec(await listed(page, plant))?.[0] ?? 0)
    await touch([[2, -8], [4, -20]])
    await button(page, `Take back 1 second, 50 cm from ${plant}`).waitFor()
    expect(await calledOut(page)).toBe(plant)
    await touch([[2, -20], [4, -40], [6, -64]])
    await expect.poll(() => calledOut(page)).not.toBe(plant)
    expect(Number(/\d*$/.exec(await listed(page, plant))?.[0])).toBe(before + 2)
  })
})

describe('closing the bed', () => {
  it('says nothing here of all that are untouched by one tap, and one tap takes it back', async () => {
    const page = await walking()
    await countHandful(page, 4)
    await go(page, 'row/plants')
    await button(page, /^Close the bed/).click()
    const said = await page.locator('.note.warn').innerText()
    const n = Number(/^\d+/.exec(said)?.[0])
    expect(await page.locator('.rows .line').count()).toBe(n)
    await button(page, `“Nothing here”: ${n} plants`).click()
    await button(page, `Take back “nothing here” from ${n} plants`).waitFor()
    await page.reload()
    await page.getByText('The end of the walk', { exact: false }).waitFor()
    expect(await page.locator('.rows .line').count()).toBe(0)
    await button(page, `Take back “nothing here” from ${n} plants`).click()
    await button(page, `“Nothing here”: ${n} plants`).waitFor()
  })
})
