// What became of the stand's colour, read with no signal: the sentence and the drawing, a plant chosen by a tap, plants
// near to a colour, a class that takes its colour from a plant, and a flag raised off the lists and taken back.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { go, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** A phone that has heard from the shed what the colours say, and is then out of reach. */
async function inTheField(): Promise<Page> {
  const { page, context } = await phones.add({ touch: true })
  await page.goto(shed.url)
  await sayWho(page)
  await readyForField(page)
  await go(page, 'beds/colour')
  await page.locator('.colour-plane').waitFor()
  await context.setOffline(true)
  await page.reload()
  await page.locator('.colour-plane').waitFor()
  return page
}

describe('with no signal', () => {
  it('the stand is read as the last sync told it, and a tap on the drawing chooses a plant', async () => {
    const page = await inTheField()
    expect(await page.locator('.say').first().innerText()).toMatch(/^Of 59 plants measured .* 3 have drifted, 1 is to be watched, .* cannot be told.*stand as a whole shows no visible change since \d+: it lies \d/s)
    expect(await page.locator('.page-head .whence').innerText()).toMatch(/^from the last sync/)

    const mark = page.locator('.colour-mark.drift').first()
    await mark.scrollIntoViewIfNeeded()
    const box = (await mark.boundingBox())!
    await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2)
    const card = page.locator('.colour-plant')
    await card.getByText('Drifted', { exact: true }).waitFor()
    await card.getByRole('button', { name: 'Others like it' }).tap()
    const code = (await card.locator('b').first().innerText()).trim()
    // Itself first, 0 away.
    expect(await page.locator('#near .colour-rows li').first().innerText()).toContain(code)

    await page.getByRole('button', { name: 'Pale and deep, dark and light' }).tap()
    await page.getByText('↑ lighter').waitFor()
    await card.getByRole('link', { name: `Open ${code}` }).tap()
    await page.getByRole('heading', { name: code, level: 1 }).waitFor()
  })

  it('a class takes its colour from a plant, and is by eye again', async () => {
    const page = await inTheField()
    await go(page, 'beds/classes')
    await page.getByRole('link', { name: /^coral/ }).tap()
    await page.getByRole('button', { name: 'From a plant' }).tap()
    const plants = page.getByRole('combobox', { name: 'Which plant' })
    const coral = await plants.locator('option', { hasText: 'coral' }).first().getAttribute('value')
    await plants.selectOption(coral)
    const effect = await page.getByText(/measured plants would be of this class; now 0/).innerText()
    expect(Number(/^\d+/.exec(effect)?.[0])).toBeGreaterThan(1)
    await page.getByRole('button', { name: 'Keep it so' }).tap()
    await page.getByRole('link', { name: /^coral.*from plant/s }).tap()
    await page.getByRole('button', { name: 'Take the measured colour back' }).tap()
    await page.getByRole('link', { name: /^coral.*by eye, not measured/s }).waitFor()
  })

  it('a plant to divide is flagged by one tap, and the next tap takes it back; a class that is wanted leaves the others out', async () => {
    const page = await inTheField()
    await go(page, 'beds/lists')
    const first = page.locator('.list-divide li').first()
    const flag = first.getByRole('button')
    expect(await first.innerText()).toMatch(/For it: .* no drift of .* or more, more stems than/s)
    await flag.tap()
    await page.locator('.list-divide li').first().locator('[aria-pressed=true]').waitFor()
    await first.getByRole('button').tap()
    await page.locator('.list-divide li').first().locator('[aria-pressed=false]').waitFor()
    expect(await page.locator('.list-lift').innerText()).toMatch(/drifted, paler by/)

    await page.getByText('Wanted classes').first().tap()
    await page.locator('.lists-page .choices').getByRole('button', { name: 'barley' }).tap()
    expect(await page.locator('.list-divide').innerText()).not.toContain('garnet, measured')
  })
})

it('says that readings were made which the answer does not know', async () => {
  const { page } = await phones.add()
  await page.route('**/api/colour', async (route) => {
    const answer = await (await route.fetch()).json() as { species: { report: { colours: { readings: number }[] } }[] }
    for (const colour of answer.species[0]!.report.colours.slice(0, 1)) colour.readings--
    await route.fulfill({ json: answer })
  })
  await page.goto(shed.url)
  await sayWho(page)
  await go(page, 'beds/colour')
  await page.getByText('1 reading on this device is newer than this').waitFor()
})
