// Two phones that both counted a plant with no signal, and whether one of the two is a repeat.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { calledOut, countHandful, everythingSent, go, listed, openWalk, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()
let maren: Page
let joaquin: Page

async function phoneOf(name: string): Promise<Page> {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page, name)
  await readyForField(page)
  return page
}

async function repeats(page: Page): Promise<number> {
  await go(page, 'shed')
  await page.getByRole('heading', { name: 'Shed', exact: true }).waitFor()
  return page.getByText(/Is one a repeat\?/).count()
}

/** Each phone counts the plant that is called out to both, out of reach of the shed. */
async function bothCount(): Promise<string> {
  await everythingSent(maren)
  await everythingSent(joaquin)
  await shed.kill()
  await openWalk(maren)
  await openWalk(joaquin)
  const plant = await calledOut(maren)
  expect(await calledOut(joaquin)).toBe(plant)
  await countHandful(maren, 4)
  await countHandful(joaquin, 5)
  await shed.start()
  await everythingSent(maren)
  await everythingSent(joaquin)
  await expect.poll(() => listed(maren, plant), { timeout: 20_000 }).toMatch(/ 9$/)
  return plant
}

async function walkTo(page: Page, plant: string): Promise<void> {
  await go(page, 'row/plants')
  await page.getByRole('button', { name: new RegExp(plant) }).click()
  await expect.poll(() => calledOut(page)).toBe(plant)
}

/** Stems of the plant called out, by everybody, today. */
function stemsOfPlant(page: Page): Promise<string> {
  return page.locator('.totals dd').first().innerText()
}

beforeAll(async () => {
  shed = await openShed('demo')
})

beforeEach(async () => {
  maren = await phoneOf('Maren')
  joaquin = await phoneOf('Joaquín')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

describe('a plant that two phones counted on one day', () => {
  it('counts both until somebody says in the row, with no signal, which one is a repeat', async () => {
    const before = await repeats(maren)
    const plant = await bothCount()
    expect(await repeats(maren)).toBe(before + 1)
    await shed.kill()
    await walkTo(maren, plant)
    await maren.getByText('Recorded 2 times: is one a repeat?').click()
    await maren.getByRole('button', { name: /^A repeat, take away: Joaquín, 5 stems/ }).click()
    await maren.locator('.undoable').getByText(/^Taken away as a repeat: Joaquín, 5 stems/).waitFor()
    expect(await stemsOfPlant(maren)).toBe('4')
    await maren.getByRole('button', { name: 'Undo' }).click()
    await expect.poll(() => stemsOfPlant(maren)).toBe('9')
    await maren.getByText('Recorded 2 times: is one a repeat?').click()
    await maren.getByRole('button', { name: /^A repeat, take away: Joaquín, 5 stems/ }).click()
    await maren.locator('.undoable').getByText(/^Taken away as a repeat: Joaquín, 5 stems/).waitFor()

    await shed.start()
    await everythingSent(maren)
    await expect.poll(() => listed(joaquin, plant), { timeout: 20_000 }).toMatch(/ 4$/)
    await walkTo(joaquin, plant)
    await joaquin.getByRole('button', { name: /^2 (more )?stems$/ }).click()
    await expect.poll(() => listed(joaquin, plant)).toMatch(/ 6$/)
  })

  it('is settled in the shed, where one of three taken away can be undone while two still ask: all were cut, and no phone asks any more', async () => {
    const plant = await bothCount()
    await sayWho(joaquin, 'Tilda')
    await walkTo(joaquin, plant)
    await countHandful(joaquin, 3)
    await everythingSent(joaquin)
    await expect.poll(() => listed(maren, plant), { timeout: 20_000 }).toMatch(/ 12$/)
    const asked = await repeats(maren)
    const asks = (n: number) => maren.getByText(new RegExp(`^${plant}.*recorded ${n} times`))
    await asks(3).click()
    await maren.getByRole('button', { name: /^A repeat, take away: Tilda, 3 stems/ }).click()
    await maren.locator('.undoable').getByText(/^Taken away as a repeat: Tilda, 3 stems/).waitFor()
    await asks(2).waitFor()
    await maren.getByRole('button', { name: 'Undo' }).click()
    await asks(3).waitFor()
    expect(await repeats(joaquin)).toBe(asked)
    await maren.getByRole('button', { name: 'All were cut' }).click()
    await maren.locator('.undoable').getByText('Noted: all were cut.').waitFor()
    await expect.poll(() => repeats(joaquin), { timeout: 20_000 }).toBe(asked - 1)
    expect(await repeats(maren)).toBe(asked - 1)
  })
})
