// What is done to a bed, told with no signal; and the warning while a spray keeps people out.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { countedBed, everythingSent, go, openWalk, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function phoneAtBed(name = 'Maren'): Promise<Page> {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page, name)
  await readyForField(page)
  await openBed(page)
  return page
}

async function openBed(page: Page): Promise<void> {
  await go(page, 'beds')
  await page.getByRole('link', { name: new RegExp(`^${countedBed}`) }).click()
  await page.getByRole('heading', { name: 'Done to this bed' }).waitFor()
}

function done(page: Page) {
  return page.locator('.bed-events .rows')
}

describe('what was done to a bed, with no signal', () => {
  it('is one tap and a save, is put right, taken away and brought back, and reaches the shed', async () => {
    const page = await phoneAtBed()
    await shed.kill()
    await page.reload()
    await openBed(page)
    await page.getByRole('button', { name: 'Fed', exact: true }).click()
    await page.getByLabel('With what, if you like').fill('fish emulsion')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    const line = done(page).getByRole('button', { name: /Fed.*fish emulsion.*Maren/ })
    await line.waitFor()

    await page.reload()
    await line.click()
    await page.getByRole('button', { name: 'Watered', exact: true, pressed: false }).last().click()
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    const corrected = done(page).getByRole('button', { name: /Watered.*fish emulsion/ })
    await corrected.click()
    await page.getByRole('button', { name: 'Take it away' }).click()
    await corrected.waitFor({ state: 'detached' })
    await page.getByRole('button', { name: 'Undo' }).click()
    await corrected.waitFor()

    await shed.start()
    await go(page, 'shed')
    await everythingSent(page)
    const other = await phoneAtBed('Joaquín')
    await done(other).getByRole('button', { name: /Watered.*fish emulsion.*Maren/ }).waitFor()
  })

  it('has no day ahead', async () => {
    const page = await phoneAtBed()
    await page.getByRole('button', { name: 'Netted', exact: true }).click()
    await page.getByLabel('Done on').fill('2099-06-01')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByRole('alert').getByText('That day lies ahead').waitFor()
    expect(await done(page).getByText('Netted').count()).toBe(0)
  })

  it('may be cutting back, whose wrong day is put right', async () => {
    const page = await phoneAtBed()
    await done(page).getByRole('button', { name: /Cut back.*Closes this flush and opens the next/ }).click()
    await page.getByRole('button', { name: 'Not cut back' }).click()
    await page.getByRole('button', { name: 'Cut back', exact: true }).click()
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    const line = done(page).getByRole('button', { name: /Cut back.*today/ })
    await line.click()
    const { yesterday } = await page.evaluate(() => {
      const day = new Date(Date.now() - 86_400_000)
      return { yesterday: `${day.getFullYear()}-${String(day.getMonth() + 1).padStart(2, '0')}-${String(day.getDate()).padStart(2, '0')}` }
    })
    await page.getByLabel('Cut back on').fill(yesterday)
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await line.waitFor({ state: 'detached' })
    await done(page).getByRole('button', { name: /Cut back/ }).waitFor()
  })
})

describe('a spray', () => {
  it('asks for the interval of its label, warns in the row and goes away by itself', async () => {
    const page = await phoneAtBed()
    await page.clock.install()
    await shed.kill()
    await page.reload()
    await openBed(page)
    await page.getByRole('button', { name: 'Sprayed', exact: true }).click()
    await page.getByText('The label and the local rules govern, not this app.').waitFor()
    await page.getByLabel('With what, if you like').fill('potassium soap')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.getByRole('alert').getByText('Read the re-entry interval off the label').waitFor()
    await page.getByRole('button', { name: '4 h', exact: true }).click()
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    const warning = page.locator('.reentry').getByText(/Stay out until .*Sprayed with potassium soap/)
    await warning.waitFor()

    await go(page, 'row')
    await warning.waitFor()
    await openWalk(page)
    await warning.waitFor()
    await page.clock.fastForward('03:58:00')
    expect(await warning.count()).toBe(1)
    await page.clock.fastForward('00:03:00')
    await warning.waitFor({ state: 'detached' })
    await shed.start()
  })
})
