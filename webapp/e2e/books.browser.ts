// The season's books on the screens: what they say, that every view comes to the same, and that they are read offline.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { violationsAlong } from './accessible'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { go, readyForField } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function phone(): Promise<Page> {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await page.getByRole('navigation').first().waitFor()
  await readyForField(page)
  return page
}

const foot = (page: Page) => page.locator('table.view tfoot').innerText()

describe('the season’s books', () => {
  it('are said in a sentence and lead in steps to what is left', async () => {
    const page = await phone()
    await go(page, 'money')
    await page.getByText(/^Season \d{4} has brought €[\d,.]+ after everything, €[\d.]+ for each stem sold\./).waitFor()
    const steps = page.locator('table.steps')
    await steps.getByRole('row', { name: /^Sold €/ }).waitFor()
    const left = await steps.getByRole('row', { name: /^Left €/ }).innerText()
    await go(page, 'money/views/bed')
    await page.locator('table.view').waitFor()
    expect(await foot(page)).toContain(left.trim().split(/\s+/).at(-1))
  })

  it('come to the same by anything, are filtered by a tap, and open offline as they were', async () => {
    const page = await phone()
    await go(page, 'money/views/channel')
    await page.locator('table.view').waitFor()
    const all = /^All together\s+(\S+)\s+(\S+)\s+(\S+)/.exec(await foot(page))!.slice(1)
    for (const by of ['buyer', 'colour class', 'grade', 'length', 'age', 'age class of plants', 'stock', 'bed', 'plant', 'day', 'week', 'month', 'kind of cost or work']) {
      const answered = page.waitForResponse((response) => response.url().includes('/api/money?'))
      await page.getByLabel('By what').selectOption(by)
      await answered
      await expect.poll(async () => /^All together\s+(\S+)\s+(\S+)\s+(\S+)/.exec(await foot(page))?.slice(1)).toEqual(all)
    }
    await page.getByLabel('By what').selectOption('month')
    await page.getByLabel('To day').fill('1999-12-31')
    await page.getByText('Nothing in the books is all of that.').waitFor()
    await page.getByRole('button', { name: 'The whole season' }).click()
    await page.getByLabel('By what').selectOption('grade')
    await page.getByRole('button', { name: 'Keep only first' }).click()
    await page.getByRole('button', { name: 'No longer only grade: first' }).waitFor()
    await expect.poll(() => page.locator('table.view tbody tr').count()).toBe(1)
    await page.context().setOffline(true)
    await page.reload()
    await go(page, 'money/views/bed')
    await expect.poll(() => foot(page)).toContain(all[0])
    await page.getByText('from the last sync, today').waitFor()
  })
})

it('what a plant is worth is told to be worked out, and then as the shed answers', async () => {
  const page = await phone()
  const interval = (median: number) => ({ median, lo: median / 2, hi: median * 2 })
  let asked = 0
  await page.route('**/api/money/worth*', (route) => {
    asked++
    if (asked === 1) return route.fulfill({ status: 503, json: { error: { code: 'slow', text: 'It takes long.' } } })
    const ages = [1, 2, 3].map((age) => ({ age, stems: interval(10 * age), saleable: interval(0.9), cents: interval(300 * age), more_cents: interval(300) }))
    return route.fulfill({ json: { arrival: 1, season: 2026, species: [{ species: 'yarrow', grades: [], cutting_a_stem: 3, bunching_a_stem: 4, ages, draws: 500 }] } })
  })
  await go(page, 'money/worth')
  await page.getByText('The shed is working out what a plant is worth.').waitFor()
  await page.getByText('One more season-2 plant would bring €6.00 in a season like this, nine times in ten between €3.00 and €12.00.').waitFor()
  expect(asked).toBe(2)
  await page.getByRole('row', { name: /^Left after work/ }).waitFor()
  const found = await violationsAlong(page, [
    ['worth', (at) => go(at, 'money/worth')],
    ['money', (at) => go(at, 'money')],
    ['a view', async (at) => { await go(at, 'money/views/bed'); await at.locator('table.view').waitFor() }],
    ['prices', async (at) => { await go(at, 'money/prices'); await at.locator('svg.prices').waitFor() }],
  ])
  expect(found).toEqual([])
})
