// What to divide: an owner asks the shed on a laptop, changes and takes the plan; a phone walks by it with no signal; crew
// lift, and say what they divided; and a season later the plan is judged.

import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { intentFacts, planFacts } from '../src/crop/ahead_facts'
import { seasonOf, northernYear } from '../src/crop/season'
import { dayOf } from '../src/crop/day'
import type { Day, PlantID, Season } from '../src/crop/nouns'
import type { Cents } from '../src/crop/sale_nouns'
import { type Reached, violations, violationsAlong } from './accessible'
import { invite, whoIs } from './joining'
import { laptopSize, Phones } from './phone'
import { openBed } from './plants'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField, sayWho } from './walk'
import { write } from './writer'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

const bed = 'Pump'
const cookieOf = async (context: BrowserContext) => (await context.cookies()).map(({ name, value }) => `${name}=${value}`).join('; ')
const planned = (page: Page) => page.locator('.division .columns .say').innerText()
const bedCard = (page: Page) => page.locator('.decided .card', { has: page.getByRole('heading', { name: bed, exact: true }) })
const group = (page: Page, name: RegExp) => bedCard(page).getByRole('button', { name })
const sumOf = (page: Page) => page.locator('.divide-walk .say').innerText()
const leftIn = async (page: Page) => Number(/\d+/.exec(await sumOf(page))?.[0] ?? 0)
const line = (page: Page, code: string) => page.locator('.divide-line', { hasText: code })

let laptop: Page
/** Plants that the owner decides by hand, so that there is one of each kind. */
const byHand = { lift: '', replace: '', divide: '', dead: '', later: '', crew: '' }

/** Has the first plants that are kept in the bed become something else. */
async function decide(page: Page, what: RegExp): Promise<string> {
  const kept = group(page, /^Keep \d+/)
  if (await kept.getAttribute('aria-expanded') === 'false') await kept.click()
  const row = bedCard(page).locator('.decided-row', { has: page.getByRole('button', { name: 'Keep', exact: true }) }).first()
  const code = await row.locator('b').first().innerText()
  await row.getByRole('button', { name: 'Keep', exact: true }).click()
  const choices = page.getByRole('group', { name: `What becomes of ${code}` })
  await choices.getByRole('button', { name: what }).click()
  await bedCard(page).locator('.decided-row', { hasText: code }).getByRole('button', { name: what }).waitFor({ state: 'attached' }).catch(() => undefined)
  return code
}

describe('an owner', () => {
  it('asks the shed, which answers in a sentence, and keeps the plan where there is no link', async () => {
    const phone = await phones.add({ size: laptopSize })
    laptop = phone.page
    await laptop.goto(shed.url)
    await sayWho(laptop)
    await readyForField(laptop)
    await go(laptop, 'ahead/division')
    await laptop.getByText('Protected cultivars may not be propagated without a licence').first().waitFor()
    await laptop.getByRole('button', { name: 'twice as many' }).click()
    await laptop.getByRole('button', { name: 'half as many again' }).click()
    await laptop.getByRole('button', { name: 'Ask the shed' }).click()
    await laptop.getByText('The shed is working on it.').waitFor()
    await laptop.locator('.decided').waitFor({ timeout: 150_000 })
    expect(await planned(laptop)).toMatch(/(in 100) to reach half as many again in 2 seasons\.$/)
    await laptop.getByText('Net, with what stands afterwards').waitFor()
    await laptop.getByText('One more place is worth').waitFor()

    await phone.context.setOffline(true)
    await laptop.reload()
    await laptop.getByText('No link to the shed, which works the plan out.').waitFor()
    expect(await planned(laptop)).toMatch(/in 2 seasons\.$/)
    expect(await laptop.getByRole('button', { name: 'Ask the shed again' }).isDisabled()).toBe(true)
    await laptop.getByRole('button', { name: '3 seasons' }).click()
    await laptop.getByText('The plan here answers what was asked before.').waitFor()
    await laptop.getByRole('button', { name: '2 seasons' }).click()
    await phone.context.setOffline(false)
  })

  it('says what things cost on this farm, goes back to what is usual, and takes it back', async () => {
    await laptop.getByText('Your costs, and what the plan takes for granted').click()
    const ground = laptop.getByLabel('A place, each season', { exact: true })
    expect(await ground.inputValue()).toBe('0.40')
    await ground.fill('0.405')
    await laptop.getByRole('button', { name: 'Save these costs' }).click()
    await laptop.getByText('A place, each season: write an amount').waitFor()
    await ground.fill('1,25')
    await laptop.getByRole('button', { name: 'Save these costs' }).click()
    await laptop.getByText('The costs are saved.').first().waitFor()
    await laptop.getByText('The plan here answers what was asked before.').waitFor()
    await laptop.getByRole('button', { name: /^A place, each season: back to the usual/ }).click()
    expect(await ground.inputValue()).toBe('0.40')
    await laptop.getByRole('button', { name: 'Undo' }).click()
    await expect.poll(() => laptop.getByText('The plan here answers what was asked before.').count()).toBe(0)
  })

  it('leaves unmet asks out and wants stems of her own, and is told how many come', async () => {
    await laptop.getByText('Stems that are wanted').click()
    const asks = laptop.locator('.wanted-stems input[type=checkbox]')
    expect(await asks.count()).toBeGreaterThan(2)
    await asks.first().uncheck()
    await laptop.getByText('The plan here answers what was asked before.').waitFor()
    await laptop.getByRole('button', { name: 'Add', exact: true }).click()
    await laptop.getByText('Choose a colour and a day, and write how many stems.').waitFor()
    await laptop.locator('.wanted-form select').selectOption({ label: 'coral' })
    await laptop.getByLabel('A day of the week').fill('2028-05-31')
    await laptop.getByLabel('Stems', { exact: true }).fill('120')
    await laptop.getByRole('button', { name: 'Add', exact: true }).click()
    await laptop.locator('.wanted-row', { hasText: '120 stems, coral' }).waitFor()
    const asked = laptop.waitForRequest('**/api/divide')
    await laptop.getByRole('button', { name: 'Ask the shed again' }).click()
    const body = (await asked).postDataJSON() as { wanted: unknown[]; left_out: unknown[] }
    expect([body.wanted, body.left_out.length]).toEqual([[{ colour: expect.any(String) as string, due: '2028-05-29', stems: 120 }], 1])
    await laptop.getByText(/coral: 120 stems wanted, \d+ come in the mean/).waitFor({ timeout: 150_000 })
    await laptop.getByRole('button', { name: /^Take away/ }).click()
    await asks.first().check()
    await laptop.getByRole('button', { name: 'Ask the shed again' }).click()
    await laptop.getByText(/wanted, \d+ come in the mean/).waitFor({ state: 'detached', timeout: 150_000 })
  })

  it('decides some plants otherwise, takes the plan, takes it back and takes it again', async () => {
    byHand.lift = await decide(laptop, /^Lift$/)
    byHand.replace = await decide(laptop, /^Replace$/)
    byHand.dead = await decide(laptop, /^Lift$/)
    byHand.later = await decide(laptop, /^Lift$/)
    byHand.divide = await decide(laptop, /^Divide into 2$/)
    byHand.crew = await decide(laptop, /^Divide into 3$/)
    await laptop.getByText('You changed 6 plants.').waitFor()
    await laptop.getByRole('button', { name: 'Take this plan' }).click()
    await laptop.getByText(/^The plan is taken: \d+ plants are decided\.$/).first().waitFor()
    await laptop.getByRole('button', { name: 'Undo' }).click()
    await laptop.getByRole('button', { name: 'Take this plan' }).waitFor()
    await go(laptop, 'row/divide')
    await laptop.getByText('Nothing is to be divided or lifted.').waitFor()
    await go(laptop, 'ahead/division')
    await laptop.getByRole('button', { name: 'Take this plan' }).click()
    await laptop.getByText(/^The plan is taken/).first().waitFor()
    await go(laptop, 'shed')
    await everythingSent(laptop)
  })
})

describe('with no signal', () => {
  it('the list is walked: lifted, divided, put off and said to be impossible, each taken back by one tap', async () => {
    const { page, context } = await phones.add({ touch: true })
    await page.goto(shed.url)
    await sayWho(page)
    await readyForField(page)
    await go(page, 'row')
    await page.getByRole('link', { name: /^Divide and lift: \d+ plants$/ }).waitFor()
    await context.setOffline(true)
    await page.getByRole('link', { name: /^Divide and lift/ }).tap()
    const all = await leftIn(page)
    await page.getByText('Gloves, long sleeves, bent knees: read before you dig').tap()
    for (const words of ['contact dermatitis', 'lift large ones in pairs', 'cut away from the hand', 'cool of the day', 'Local rules']) await page.getByText(words).waitFor()

    const open = async (code: string) => {
      const what = line(page, code).locator('.divide-what')
      if (await what.getAttribute('aria-expanded') !== 'true') await what.tap()
    }
    const lift = async (code: string, said: string) => {
      await open(code)
      await line(page, code).getByText('You decided so.').waitFor()
      await line(page, code).getByRole('button', { name: 'It is out' }).tap()
      await page.getByText(said).first().waitFor()
    }
    await lift(byHand.lift, `${byHand.lift} is lifted.`)
    await expect.poll(() => leftIn(page)).toBe(all - 1)
    await page.getByRole('button', { name: 'Undo' }).tap()
    await expect.poll(() => leftIn(page)).toBe(all)
    await lift(byHand.lift, `${byHand.lift} is lifted.`)
    await lift(byHand.replace, `${byHand.replace} is lifted; its place is free for planting.`)
    await expect.poll(() => leftIn(page)).toBe(all - 2)

    await open(byHand.dead)
    await line(page, byHand.dead).getByRole('button', { name: 'Not possible' }).tap()
    await page.getByRole('button', { name: 'Dead already' }).tap()
    await page.getByText(`${byHand.dead} stays: Dead already.`).first().waitFor()
    await open(byHand.later)
    await line(page, byHand.later).getByRole('button', { name: 'Later' }).tap()
    await line(page, byHand.later).getByText('Put off').waitFor()
    await expect.poll(() => leftIn(page)).toBe(all - 3)

    await open(byHand.divide)
    await line(page, byHand.divide).getByRole('link', { name: 'Divide into 2' }).tap()
    await page.getByRole('button', { name: 'Divide into 2' }).waitFor()
    await page.getByRole('checkbox', { name: /^Somewhere in this bed/ }).check()
    await page.getByRole('button', { name: 'Divide into 2' }).tap()
    await page.getByText(`${byHand.divide} is divided into 2.`).first().waitFor()
    await page.getByRole('link', { name: 'On with the list' }).tap()
    await expect.poll(() => leftIn(page)).toBe(all - 4)
    expect(await line(page, byHand.divide).count()).toBe(0)

    await page.reload()
    await expect.poll(() => leftIn(page)).toBe(all - 4)
    await line(page, byHand.later).getByText('Put off').waitFor()
    await page.getByText('3 are done.').waitFor()
    await context.setOffline(false)
    await everythingSent(page)
    await go(laptop, 'row/divide')
    await expect.poll(() => leftIn(laptop)).toBe(all - 4)
  })
})

it('crew lift, and say what they divided for an owner to enter', async () => {
  const code = await invite(shed, await cookieOf(laptop.context()), crypto.randomUUID(), 'crew', 'Ben')
  const { page: crew } = await phones.add()
  await crew.goto(`${shed.url}/#join/${code.replace('-', '')}`)
  await crew.getByRole('button', { name: 'Join', exact: true }).click()
  await crew.getByRole('button', { name: 'Start' }).click()
  await crew.getByRole('navigation').first().waitFor()
  await go(crew, 'ahead/division')
  await crew.getByText('An owner plans what to divide.').waitFor()
  expect(await crew.locator('.division').innerText()).not.toMatch(/€|Net/)
  await go(crew, 'row/divide')
  await line(crew, byHand.crew).locator('.divide-what').click()
  expect(await line(crew, byHand.crew).getByRole('button', { name: 'Not possible' }).count()).toBe(0)
  await line(crew, byHand.crew).getByRole('button', { name: 'It is divided' }).click()
  await crew.getByText('1 is told as divided. An owner enters it.').waitFor()
  await line(crew, byHand.later).locator('.divide-what').click()
  await line(crew, byHand.later).getByRole('button', { name: 'It is out' }).click()
  await crew.getByText(`${byHand.later} is lifted.`).first().waitFor()
  await everythingSent(crew)

  await go(laptop, 'row/divide')
  await laptop.getByText('1 was divided in the row and is not entered yet').waitFor()
  await expect.poll(() => line(laptop, byHand.crew).innerText()).toMatch(/Divided today by (Ben|somebody), to be entered/)
  await line(laptop, byHand.crew).locator('.divide-what').click()
  await line(laptop, byHand.crew).getByRole('link', { name: 'Divide into 3' }).click()
  await laptop.getByRole('checkbox', { name: /^Somewhere in this bed/ }).check()
  await laptop.getByRole('button', { name: 'Divide into 3' }).click()
  await laptop.getByRole('link', { name: 'On with the list' }).click()
  expect(await laptop.getByText('is not entered yet').count()).toBe(0)
})

it('a plan of the season before is judged by the counted plants', async () => {
  const cookie = await cookieOf(laptop.context())
  const { farm } = await whoIs(shed, cookie)
  const season = seasonOf(northernYear, dayOf(new Date()))
  await openBed(laptop, 'Elder')
  const links = await laptop.locator('.plants a').evaluateAll((all) => all.map((a) => decodeURIComponent(a.getAttribute('href')?.split('/').at(-1) ?? '')))
  const before = season - 1 as Season
  const made = `${before}-09-01` as Day
  await write(shed, farm, cookie, [
    ...planFacts(before, { goal: 150, seasons: 1, places: 10, minutes: 60, chance: 700, made, net: 5_000 as Cents }),
    ...links.flatMap((id) => intentFacts(before, id as PlantID, { do: 'keep', into: 0, made, stems: { mean: 25, lo: 8, hi: 60 } })),
  ])
  await go(laptop, 'ahead/division')
  await laptop.getByRole('heading', { name: `How right was the plan of ${before}?` }).waitFor()
  await laptop.getByText(/stems so far in \d+ from \d+ counted plants with their divisions/).waitFor()
  await laptop.getByText(new RegExp(`^Only counted plants tell: \\d+ of the ${links.length}`)).waitFor()
})

it('everybody can use its pages, in both languages', async () => {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page)
  const pages: readonly Reached[] = [
    ['what is asked', (at) => go(at, 'ahead/division')],
    ['the walk', async (at) => {
      await go(at, 'row/divide')
      await at.locator('.divide-what').first().waitFor()
    }],
    ['why it cannot be', (at) => at.getByRole('button', { name: 'Not possible' }).click()],
    ['what to take care of', (at) => at.locator('.divide-care summary').click()],
  ]
  expect(await violationsAlong(page, pages)).toEqual([])
  await go(laptop, 'ahead/division')
  await laptop.locator('.decided').waitFor()
  expect(await violationsAlong(laptop, [['the plan', () => laptop.locator('.decided .fold').first().click()]])).toEqual([])

  const { page: spanish } = await phones.add({ locale: 'es-MX' })
  await spanish.goto(shed.url)
  await sayWho(spanish)
  await go(spanish, 'row/divide')
  await spanish.getByRole('heading', { name: 'Qué dividir y sacar' }).waitFor()
  expect(await violations(spanish)).toEqual([])
})
