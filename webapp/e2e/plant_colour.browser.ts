// A plant's colour on its page, with no signal: what the shed said of it last, its heads over the seasons, a head cut out
// of a photo taken just now, and a reading put right, taken away and brought back.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { violationsInBothThemes } from './accessible'
import { type Phone, Phones } from './phone'
import { measureFromFile, plantsThat } from './plant_colour_shots'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField, sayWho } from './walk'

let shed: Shed
let owner: Phone
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
  owner = await phones.add()
  await owner.page.goto(shed.url)
  await sayWho(owner.page)
  await readyForField(owner.page)
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** The line to a shed that was away is tried again after half a minute at most. */
const soon = { timeout: 45_000 }

function newest(page: Page) {
  return page.locator('.head-tile').last()
}

it('a plant’s drift is read with no signal, a head is cut out of its photo, and a reading is put right', async () => {
  const { page, context } = owner
  const [plant = ''] = await plantsThat(page, shed, 'drift')
  await go(page, `beds/plant/${plant}`)
  await page.getByText('Its colour drifts').waitFor(soon)
  await context.setOffline(true)
  await page.reload()
  expect(await page.locator('.plant-colour .say').innerText()).toMatch(/^Its colour drifts: in \d+ it is .* by \d.* than in \d+, in all .*\. Another day confirmed it\.$/s)
  await page.getByText(/^from the last sync, /).waitFor()

  const seasons = page.locator('.head-seasons > li')
  expect((await seasons.allInnerTexts()).map((text) => text.replace(/\s+/g, ' '))).toEqual([
    expect.stringMatching(/^\d+ 4 photos its baseline$/), expect.stringMatching(/^\d+ 4 photos off by \d/), expect.stringMatching(/^\d+ 4 photos off by \d.* Put it right /),
  ])
  await seasons.first().locator('summary').first().click()
  await seasons.first().getByText('part of its baseline').first().waitFor()
  expect(await newest(page).innerText()).toMatch(/off by \d+\.\d ±\d\.\d\s+L\* \d.*cm ± .*wide\s+full bloom, /s)
  expect(await violationsInBothThemes(page)).toEqual([])

  await measureFromFile(page, plant, 2)
  await expect.poll(() => newest(page).locator('.cut img').evaluate((image) => (image as HTMLImageElement).style.width)).toMatch(/^\d+(\.\d+)?%$/)
  await page.getByText('1 reading on this device is newer than this.').waitFor()

  const before = page.locator('.head-tile').nth(3)
  await before.getByText('Put it right').click()
  await before.getByRole('button', { name: 'fading' }).click()
  await before.getByRole('button', { name: 'fading', pressed: true }).waitFor()
  await before.getByRole('button', { name: 'sun', exact: true }).click()
  await expect.poll(() => before.locator('.visit-history li').allInnerTexts()).toEqual([
    expect.stringMatching(/^Measured\s+(Joaquín|Maren) · /), expect.stringMatching(/^Said to be: fading\s+Maren · /), expect.stringMatching(/^Light said to be: sun\s+Maren · /),
  ])
  expect(await before.innerText()).toContain('fading, sun')
  await before.getByRole('button', { name: 'Measured by mistake' }).click()
  await expect.poll(() => page.locator('.head-tile').count()).toBe(4)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(() => page.locator('.head-tile').count()).toBe(5)

  // Once the shed has heard of it, it answers anew.
  await context.setOffline(false)
  await page.locator('.plant-colour').getByText(/newer than this|was put right here/).waitFor({ state: 'detached', ...soon })
})

it('who looks on reads how a reading came to be, and changes nothing', async () => {
  const answer = await owner.page.request.post(`${shed.url}/api/invitations`, { data: { person: crypto.randomUUID(), name: 'Ilse', role: 'viewer' }, headers: { origin: shed.url } })
  const { code } = (await answer.json()) as { code: string }
  const { page } = await phones.add()
  await page.goto(`${shed.url}/#join/${code}`)
  await page.getByRole('button', { name: 'Join', exact: true }).click()
  await page.getByRole('button', { name: 'Start' }).click()
  await everythingSent(page)
  const [plant = ''] = await plantsThat(page, shed, 'none')
  await go(page, `beds/plant/${plant}`)
  await page.getByText('Shows no drift').waitFor(soon)
  await newest(page).getByText('History').click()
  await newest(page).getByText('Measured').waitFor()
  expect(await newest(page).getByRole('button').count()).toBe(0)
})
