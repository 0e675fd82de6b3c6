// A visit put right later, with no signal: its number, its day, and that it was a mistake; and who may.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { countHandful, countedBed, everythingSent, go, listed, openWalk, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function phoneOf(name: string): Promise<Page> {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page, name)
  await readyForField(page)
  return page
}

async function openPlant(page: Page, code: string): Promise<void> {
  await go(page, 'beds')
  await page.getByRole('link', { name: new RegExp(`^${countedBed}`) }).click()
  await page.locator('.plants').getByRole('link', { name: new RegExp(code) }).click()
  await page.getByRole('heading', { name: 'Visits' }).waitFor()
}

function newestVisit(page: Page) {
  return page.locator('.visits > li').first()
}

describe('a visit, with no signal', () => {
  it('is corrected, its history told, given another day, taken away and brought back', async () => {
    const page = await phoneOf('Maren')
    await openWalk(page)
    const plant = await countHandful(page, 7)
    await everythingSent(page)

    const other = await phoneOf('Joaquín')
    await everythingSent(other)
    await shed.kill()
    await openPlant(other, plant)
    await newestVisit(other).getByRole('button', { name: /correct it/ }).click()
    await other.getByLabel(/^Right number of stems/).fill('5')
    await other.getByRole('button', { name: 'Save the number' }).click()
    await newestVisit(other).getByText('History, or put it right').click()
    const history = newestVisit(other).locator('ol li')
    await expect.poll(() => history.allInnerTexts()).toEqual([
      expect.stringMatching(/^Recorded\s+Maren · /),
      expect.stringMatching(/^not graded: 7 stems counted\s+Maren · /),
      expect.stringMatching(/^not graded: 7 corrected to 5\s+Joaquín · /),
    ])

    await newestVisit(other).getByRole('button', { name: 'Another day' }).click()
    const yesterday = await other.evaluate(() => {
      const day = new Date(Date.now() - 86_400_000)
      return `${day.getFullYear()}-${String(day.getMonth() + 1).padStart(2, '0')}-${String(day.getDate()).padStart(2, '0')}`
    })
    await other.getByLabel('The right day').fill('2099-01-01')
    await newestVisit(other).getByText('That day lies ahead.').waitFor()
    await other.getByLabel('The right day').fill(yesterday)
    await other.getByRole('button', { name: 'Save the day' }).click()
    await expect.poll(() => history.allInnerTexts()).toEqual(expect.arrayContaining([expect.stringMatching(/^Day set to .*\s+Joaquín · /)]))

    const visits = await other.locator('.visits > li').count()
    await newestVisit(other).getByRole('button', { name: 'Recorded by mistake' }).click()
    await expect.poll(() => other.locator('.visits > li').count()).toBe(visits - 1)
    await other.getByRole('button', { name: 'Undo' }).click()
    await expect.poll(() => other.locator('.visits > li').count()).toBe(visits)
    await newestVisit(other).getByText('History, or put it right').click()
    await newestVisit(other).getByRole('button', { name: 'Recorded by mistake' }).click()
    await expect.poll(() => other.locator('.visits > li').count()).toBe(visits - 1)

    await shed.start()
    await go(other, 'shed')
    await everythingSent(other)
    await go(page, 'row')
    await everythingSent(page)
    await expect.poll(() => listed(page, plant), { timeout: 20_000 }).toContain('waiting')
    // What is counted from now on is a visit of its own, and not the one that was taken away.
    await go(page, 'row/plants')
    await page.getByRole('button', { name: new RegExp(plant) }).click()
    await page.getByRole('button', { name: /^3 stems$/ }).click()
    await expect.poll(() => listed(page, plant)).toMatch(/ 3$/)
  })
})

/** A phone of crew, by an invitation that an owner's phone makes. */
async function crewPhone(owner: Page): Promise<Page> {
  const answer = await owner.request.post(`${shed.url}/api/invitations`, {
    data: { person: crypto.randomUUID(), name: 'Ilse', role: 'crew' }, headers: { origin: shed.url },
  })
  expect(answer.ok()).toBe(true)
  const { code } = (await answer.json()) as { code: string }
  const { page } = await phones.add()
  await page.goto(`${shed.url}/#join/${code}`)
  await page.getByRole('button', { name: 'Join', exact: true }).click()
  await page.getByRole('button', { name: 'Start' }).click()
  await page.getByRole('navigation').first().waitFor()
  await readyForField(page)
  return page
}

describe('crew', () => {
  it('put right what they recorded, see why not what others did, and tell what was done to a bed', async () => {
    const owner = await phoneOf('Maren')
    await openWalk(owner)
    const others = await countHandful(owner, 7)
    await everythingSent(owner)
    const page = await crewPhone(owner)
    await everythingSent(page)
    await openWalk(page)
    const own = await countHandful(page, 6)
    await go(page, 'row/plants')
    await page.getByRole('button', { name: new RegExp(others) }).click()
    await countHandful(page, 5)
    await shed.kill()

    await go(page, 'row/plants')
    await page.getByRole('button', { name: new RegExp(others) }).click()
    await page.getByText('Recorded 2 times: is one a repeat?').click()
    await page.getByText('Recorded by Maren: only they, the phone it was recorded on, or an owner can put it right.').waitFor()
    await page.getByRole('button', { name: /^A repeat, take away: .*5 stems/ }).click()
    await page.locator('.undoable').getByText(/^Taken away as a repeat: .*5 stems/).waitFor()

    await openPlant(page, others)
    await newestVisit(page).getByText('Recorded by Maren: only they, the phone it was recorded on, or an owner can put it right.').waitFor()
    expect(await newestVisit(page).getByRole('button').count()).toBe(0)
    await newestVisit(page).getByText('History', { exact: true }).click()
    await newestVisit(page).getByText('not graded: 7 stems counted').waitFor()

    await openPlant(page, own)
    await newestVisit(page).getByRole('button', { name: /correct it/ }).click()
    await page.getByLabel(/^Right number of stems/).fill('5')
    await page.getByRole('button', { name: 'Save the number' }).click()
    await newestVisit(page).getByRole('button', { name: /^not graded\s*5/ }).waitFor()

    await go(page, 'beds')
    await page.getByRole('link', { name: new RegExp(`^${countedBed}`) }).click()
    await page.getByRole('button', { name: 'Watered', exact: true }).click()
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.locator('.bed-events .rows').getByRole('button', { name: /^Watered today/ }).waitFor()
    expect(await page.getByRole('button', { name: /^Cut back/ }).count()).toBe(0)

    await shed.start()
    await go(page, 'shed')
    await everythingSent(page)
  })
})
