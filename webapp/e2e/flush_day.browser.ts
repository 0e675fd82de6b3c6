// A flush day with no signal, tap by tap: what counting costs a hand, and that no stem is lost.
// Every touch of the screen counts, a flick as one, from opening the bed to closing it.

import { rmSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { fieldBed, type FieldPlant, fieldPlants, fieldStems, flushDay, importField, joinFirst } from './field'
import { Phones } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { go, readyForField } from './walk'

/** A day on which a counted plant gives more than nine; of 2,000 days one has as many such plants as would break the bound. */
const seed = 27
const day = flushDay(seed)
const counted = day.filter((plant) => plant.counted)
const sum = (plants: readonly FieldPlant[]) => plants.reduce((stems, plant) => stems + plant.stems, 0)

const phones = new Phones()
const folders: string[] = []
const sheds: Shed[] = []

afterAll(async () => {
  await phones.close()
  for (const shed of sheds) await shed.close()
  for (const folder of folders) rmSync(folder, { recursive: true, force: true })
})

/** A phone of the farm, ready for the field, out of reach of the shed. */
async function inTheField(): Promise<Page> {
  const data = scratchFolder('field')
  folders.push(data)
  importField(data, day, new Date().getFullYear())
  const shed = await openShed('serve', { data })
  sheds.push(shed)
  const { page } = await phones.add()
  await page.addInitScript(() => {
    window.touches = 0
    addEventListener('pointerdown', () => window.touches++, { capture: true })
  })
  await joinFirst(page, shed)
  await readyForField(page)
  await go(page, 'row')
  await page.getByRole('button', { name: new RegExp(`^${fieldBed}`) }).waitFor()
  await shed.kill()
  return page
}

async function touches(page: Page): Promise<number> {
  return page.evaluate(() => window.touches)
}

async function calledOut(page: Page, code: string): Promise<void> {
  await page.waitForFunction((wanted) => document.querySelector('.plant-card .code')?.textContent === wanted, code)
}

/** What the list says of each plant, by its code, after the page was read anew from the disk. */
async function listedAfterReload(page: Page): Promise<Map<string, number>> {
  await page.reload()
  await page.getByRole('navigation').first().waitFor()
  await go(page, 'row')
  // Where the page was left is kept a moment after the finger: the walk may stand at its end still.
  const [bed, other] = [page.getByRole('button', { name: new RegExp(`^${fieldBed}`) }), page.getByRole('button', { name: 'Another bed' })]
  await bed.or(other).first().waitFor()
  if (await other.isVisible()) await other.click()
  await bed.click()
  await go(page, 'row/plants')
  await page.locator('.jump').waitFor()
  const rows = await page.locator('.walk-list .line').allInnerTexts()
  return new Map(rows.map((row) => {
    const [code = '', ...rest] = row.split('\n').map((part) => part.trim()).filter(Boolean)
    return [code, Number(rest.at(-1))]
  }))
}

describe(`a flush day (seed ${seed}): ${fieldPlants} plants, ${fieldStems} stems`, () => {
  beforeAll(() => {
    expect([day.length, sum(day)]).toEqual([fieldPlants, fieldStems])
    // Else what more than nine stems cost was not measured.
    expect(counted.some(({ stems }) => stems > 9)).toBe(true)
  })

  it('costs at most 1.2 taps for each counted plant told as one number', async () => {
    const page = await inTheField()
    const before = await touches(page)
    await page.getByRole('button', { name: new RegExp(`^${fieldBed}`) }).click()
    for (const { code, stems } of counted) {
      await calledOut(page, code)
      if (stems > 9) {
        await page.getByRole('button', { name: '10 and more' }).click()
        await page.getByRole('button', { name: new RegExp(`^${Math.floor(stems / 10)}, then`) }).click()
      }
      await page.getByRole('button', { name: new RegExp(`^${stems} stems?$`) }).click()
    }
    await page.getByText('The end of the walk', { exact: false }).waitFor()
    await page.getByRole('button', { name: 'Another bed' }).click()
    const taps = (await touches(page)) - before
    console.log(`one number: ${taps} taps for ${counted.length} counted plants, ${(taps / counted.length).toFixed(3)} each`)
    expect(taps / counted.length).toBeLessThanOrEqual(1.2)
    expect(await listedAfterReload(page)).toEqual(new Map(counted.map(({ code, stems }) => [code, stems])))
  })

  it('costs at most 1.1 taps for each stem on the grid, a plant’s last one flicked', async () => {
    const page = await inTheField()
    await page.getByRole('button', { name: new RegExp(`^${fieldBed}`) }).click()
    await go(page, 'row/plants')
    await page.getByRole('button', { name: /^every plant/ }).click()
    await go(page, 'row')
    await page.getByRole('button', { name: 'Count by grade and length' }).click()
    await go(page, 'row/plants')
    await page.getByRole('button', { name: 'Another bed' }).click()

    const before = await touches(page)
    await page.getByRole('button', { name: new RegExp(`^${fieldBed}`) }).click()
    let tapped = 0
    for (const { code, stems } of day) {
      await calledOut(page, code)
      const centres = await cells(page) // a line above, of storage or sync, moves them
      for (let stem = 1; stem <= stems; stem++) {
        const { x, y } = centres[(tapped++ * 7) % centres.length]!
        await page.mouse.move(x, y)
        await page.mouse.down()
        if (stem === stems) await page.mouse.move(x + 6, y - 60, { steps: 3 })
        await page.mouse.up()
      }
    }
    await page.getByText('The end of the walk', { exact: false }).waitFor()
    await page.getByRole('button', { name: 'Another bed' }).click()
    const taps = (await touches(page)) - before
    console.log(`grid: ${taps} taps for ${tapped} stems of ${day.length} plants, ${(taps / tapped).toFixed(3)} each`)
    expect(taps / fieldStems).toBeLessThanOrEqual(1.1)
    expect(await listedAfterReload(page)).toEqual(new Map(day.map(({ code, stems }) => [code, stems])))
  }, 240_000)
})

/** The middles of the cells in sight. */
async function cells(page: Page): Promise<{ x: number; y: number }[]> {
  await page.locator('.count-grid .cell').first().waitFor()
  return page.locator('.count-grid .cell:not(.more)').evaluateAll((all) => all
    .map((cell) => cell.getBoundingClientRect())
    .filter((box) => box.left >= 0 && box.right <= innerWidth)
    .map((box) => ({ x: box.left + box.width / 2, y: box.top + box.height / 2 })))
}

declare global {
  interface Window {
    touches: number
  }
}
