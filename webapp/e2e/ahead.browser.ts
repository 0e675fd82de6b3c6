// What is to come, as a grower sees it on a phone: the weeks, one of them from near, past forecasts scored, and what is safe
// to offer; with no signal, in Spanish, and out of season.

import { execFileSync } from 'node:child_process'
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays } from '../src/crop/day'
import type { BuyerID, Cents, LineID, OrderID } from '../src/crop/sale_nouns'
import { lineFacts, orderFacts } from '../src/crop/sale_facts'
import type { ColourID, Millimetres } from '../src/crop/nouns'
import { laptopSize, phoneSize, Phones, type PhoneOptions } from './phone'
import { violationsInBothThemes } from './accessible'
import { openSaleFarm, type SaleFarm } from './day_of_sales'
import { type Drawn, forecastDrawn, scoredWeeks } from './forecast_drawn'
import { scratchFolder } from './shed'
import { go, readyForField } from './walk'
import { admit } from './writer'

let farm: SaleFarm
const phones = new Phones()
/** Pictures to be looked at, where CORYMB_PICTURES says where. */
const pictures = process.env['CORYMB_PICTURES']
const papers = pictures ?? scratchFolder('weeks')
const colours = { ember: 0.5, oyster: 0.3, coral: 0.15, '': 0.05 }

beforeAll(async () => {
  if (pictures !== undefined) mkdirSync(pictures, { recursive: true })
  farm = await openSaleFarm()
  await farm.say([
    ...orderFacts({ id: 'ahead' as OrderID, buyer: 'fern' as BuyerID, due: addDays(farm.today, 14), taken: farm.today, note: '' }),
    ...lineFacts({
      id: 'ahead' as LineID, order: 'ahead' as OrderID, standing: '', bunch: '', bunches: 12, stems: 10, grade: 'first', length: 400 as Millimetres,
      colours: ['ember' as ColourID], whole: false, exact: true, price: 560 as Cents,
    }),
  ])
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

async function opened(told: Partial<Drawn> = {}, options: PhoneOptions = {}, cookie = farm.owner): Promise<Page> {
  const { page, context } = await phones.add(options)
  const answer = forecastDrawn({ asof: addDays(farm.today, -1), colours, ...told })
  await page.route('**/api/forecast*', (route) => route.fulfill({ json: answer }))
  await admit(context, farm.shed, cookie)
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor()
  return page
}

/** A picture of the whole page on a phone and on a laptop, light and dark. */
async function pictured(page: Page, name: string): Promise<void> {
  if (pictures === undefined) return
  for (const [size, at] of [['phone', phoneSize], ['laptop', laptopSize]] as const) {
    await page.setViewportSize(at)
    for (const theme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme: theme })
      await page.screenshot({ path: join(pictures, `${name}-${size}-${theme}.png`), fullPage: true })
    }
  }
  await page.setViewportSize(phoneSize)
  await page.emulateMedia({ colorScheme: 'light' })
}

/** What stands there as it is printed. */
async function printed(page: Page, name: string, format: 'A4' | 'Letter'): Promise<string> {
  const file = join(papers, `${name}-${format.toLowerCase()}.pdf`)
  writeFileSync(file, await page.pdf({ format, printBackground: false }))
  return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' })
}

const say = (page: Page) => page.locator('.say').first()

describe('what is to come', () => {
  it('is a sentence, a picture of weeks, and a week from near', async () => {
    const page = await opened()
    await go(page, 'ahead')
    await expect.poll(() => say(page).innerText()).toMatch(/^About 1,\d\d0 stems are still to come this season, between [89\d,]+0 and [12],\d\d0; the heaviest week is /)
    const columns = page.locator('.week-column')
    await pictured(page, 'ahead')
    expect(await columns.count()).toBeGreaterThanOrEqual(6)
    await page.getByRole('button', { name: /120 promised/ }).click()
    await page.getByText('120 stems promised.').waitFor()
    for (const head of ['Grades', 'Colour classes', 'Day by day']) await page.getByRole('columnheader', { name: head }).waitFor()
    expect(await violationsInBothThemes(page)).toEqual([])
    await pictured(page, 'ahead-week')
    await page.getByText('120 stems promised.').click()
    await page.getByRole('link', { name: /^Fern & Thimble 12 bunches of 10, first/ }).waitFor()
    await page.getByRole('button', { name: 'Show later weeks' }).click()
    expect(await columns.count()).toBeGreaterThan(10)
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBe(0)
  })

  it('is told of some colours and grades, summed within each draw', async () => {
    const page = await opened()
    await go(page, 'ahead')
    await page.getByText('All colours and grades: choose some').click()
    await page.getByRole('button', { name: 'ember', exact: true }).click()
    await page.getByRole('button', { name: 'first and better' }).click()
    // Half of the stems are ember, seven of ten of these first or extra.
    await expect.poll(() => say(page).innerText()).toMatch(/^About [45]\d0 stems \(ember, first and better\) are still to come/)
    expect(await violationsInBothThemes(page)).toEqual([])
    await page.getByRole('button', { name: 'Show all again' }).click()
    await expect.poll(() => say(page).innerText()).toMatch(/^About 1,\d\d0 stems are/)
  })

  it('is told with first cuts, how late the season is and what the weather says', async () => {
    const days = (q50: number) => ({ q05: q50 - 3, q50, q95: q50 + 3 })
    const filled = [{ first: addDays(farm.today, -9), last: addDays(farm.today, -8) }]
    const page = await opened({ stock: 'yarrow', timing: { season_shift: { usual: days(6), practice: days(2) }, warmth: { ahead: -5.2, seasons: 3, filled }, silent: { first: addDays(farm.today, -60), last: addDays(farm.today, -1), part: 0.72 } } })
    await go(page, 'ahead')
    await page.getByText(/^The season looks half entered: no cut is told of .*, when in seasons before 72 of 100 stems came/).waitFor()
    await page.getByText(/^fall flush, .* comes in 86 of 100 cases$/).waitFor()
    await page.getByText('about 6 days later than in the farm’s usual season (3 to 9)').waitFor()
    await page.getByText('Only as much warmth has come as usually 5 days earlier (mean of 3 seasons).').waitFor()
    await page.getByText('2 days have no weather').waitFor()
    await page.getByText('The weeks in numbers').click()
    expect(await page.locator('.ahead-weeks table').first().locator('tbody tr').count()).toBe(await page.locator('.week-column').count())
    expect(await violationsInBothThemes(page)).toEqual([])
    await pictured(page, 'ahead-timing')
  })

  it('stays readable with no signal, with its day, and asks for nothing', async () => {
    const page = await opened({ asof: addDays(farm.today, -5) })
    await go(page, 'ahead')
    await say(page).waitFor()
    await readyForField(page)
    await page.context().setOffline(true)
    await page.reload()
    await go(page, 'ahead')
    await page.getByText('This forecast is 5 days old.').waitFor()
    await expect.poll(() => say(page).innerText()).toMatch(/^About [\d,]+ stems/)
  })

  it('is nothing out of season, and the next season is asked of the division plan', async () => {
    const page = await opened({ means: [0, 0, 0] })
    await go(page, 'ahead')
    await page.getByText('Nothing more is to come this season.').waitFor()
    await page.getByRole('link', { name: 'What the next season may bring is asked of the division plan.' }).waitFor()
    expect(await violationsInBothThemes(page)).toEqual([])
  })

  it('is not there before the shed answered once', async () => {
    const page = await opened()
    await page.route('**/api/forecast*', (route) => route.fulfill({ status: 503, body: '' }))
    await go(page, 'ahead')
    await page.getByText('The shed did not answer.').waitFor()
    expect(await page.getByRole('link', { name: 'Can I promise it?' }).count()).toBe(1)
  })

  it('speaks Spanish', async () => {
    const page = await opened({}, { locale: 'es-MX' })
    await go(page, 'ahead')
    await expect.poll(() => say(page).innerText(), { timeout: 40_000 }).toMatch(/^Faltan por venir unos 1,\d\d0 tallos esta temporada, entre/)
    await page.locator('.week-column').nth(2).click()
    await page.getByRole('columnheader', { name: 'Día por día' }).waitFor()
    await pictured(page, 'ahead-es')
  })
})

describe('what is safe to offer', () => {
  const paper = (page: Page) => page.locator('.paper-print')
  /** Bunches of ten firsts in all weeks. */
  const tens = async (page: Page) => {
    const cells = await paper(page).locator('tr', { hasText: 'first, 40 cm' }).locator('td.big').allInnerTexts()
    return cells.reduce((sum, cell) => sum + Number(cell), 0)
  }

  it('is a sheet for both papers, a message and a file, without prices until they are asked for', async () => {
    const page = await opened()
    await go(page, 'ahead/weeks')
    await expect.poll(() => say(page).innerText()).toMatch(/^[\d,]+ stems are safe to offer in 4 weeks \([^)]*\d[^)]*\), beside all that is promised: in 90 of 100 cases/)
    await pictured(page, 'weeks')
    expect(await paper(page).innerText()).not.toContain('€')
    expect(await page.locator('.send-text').inputValue()).toMatch(/^Kiln Field Flowers, on offer for the coming weeks:[\s\S]*ember, first, 40 cm: \d+ bunches of 10\n/)
    expect(await violationsInBothThemes(page)).toEqual([])
    await page.getByLabel('With the prices of').selectOption({ label: 'Florists in town' })
    await expect.poll(() => paper(page).innerText()).toContain('€5.60')
    for (const format of ['A4', 'Letter'] as const) {
      const text = await printed(page, 'weeks', format)
      expect(text).toMatch(/^Kiln Field Flowers\s+Pump Road 9\s+On offer for the coming weeks/)
      expect(text).not.toContain('For how many weeks')
    }
    const saving = page.waitForEvent('download')
    await page.getByRole('button', { name: 'Save the CSV' }).click()
    expect(readFileSync(await (await saving).path(), 'utf8')).toMatch(/^\uFEFFweek,from,to,colour,bunch,.*,price,currency\r\n"\d{4}-W\d\d",/)
    await page.getByText('What safe means').click()
    await page.getByText('no stem is offered twice').waitFor()
  })

  it('is less of a rule beside more demanding bunches, and all of it without these', async () => {
    const page = await opened()
    await go(page, 'ahead/weeks')
    await expect.poll(() => tens(page)).toBeGreaterThan(0)
    const beside = await tens(page)
    await page.getByLabel('Ten long extras: 10 stems').uncheck()
    await expect.poll(() => tens(page)).toBeGreaterThan(beside)
    await page.reload()
    await go(page, 'ahead/weeks')
    await expect.poll(() => page.getByLabel('Ten long extras: 10 stems').isChecked()).toBe(false)
  })

  it('is told to crew without any price, in Spanish', async () => {
    const page = await opened({}, { locale: 'es-MX' }, farm.crew)
    await go(page, 'ahead/weeks')
    await expect.poll(() => say(page).innerText(), { timeout: 40_000 }).toMatch(/tallos se pueden ofrecer con seguridad en 4 semanas \(/)
    expect(await page.getByLabel('Con los precios de').count()).toBe(0)
    expect(await page.locator('.send-text').inputValue()).toMatch(/primera, 40 cm: \d+ manojos de 10/)
    await pictured(page, 'weeks-es')
  })
})

describe('past forecasts', () => {
  it('are scored beside plain rules, in a sentence, a picture and a table', async () => {
    const page = await opened({ scored: scoredWeeks(farm.today, 14) })
    await go(page, 'ahead')
    await page.getByRole('link', { name: 'How good the forecasts were' }).click()
    await expect.poll(() => say(page).innerText()).toMatch(/^Of the last 14 weeks the range of nine in ten held 13. Its misses were \d\d % smaller than of saying last week again/)
    expect(await page.locator('.scores-table tbody tr').count()).toBe(14)
    expect(await page.locator('.came.missed').count()).toBe(2) // the week, and what the mark means
    await page.getByText('What a miss is').click()
    expect(await violationsInBothThemes(page)).toEqual([])
    await pictured(page, 'scores')
  })

  it('fit a phone in Spanish, whose words are longer', async () => {
    const page = await opened({ scored: scoredWeeks(farm.today, 14) }, { locale: 'es-MX', size: phoneSize })
    await go(page, 'ahead/scores')
    await page.locator('.scores-table').waitFor()
    expect(await page.locator('.scroll').evaluate((one) => one.scrollWidth - one.clientWidth)).toBeLessThanOrEqual(0)
  })

  it('are none at first', async () => {
    const page = await opened()
    await go(page, 'ahead/scores')
    await page.getByText('No past week can be scored yet.').waitFor()
  })
})
