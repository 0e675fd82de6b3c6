// Papers of a day, invoices and what is on offer: made, printed on both papers, billed once, and seen by whom it concerns.

import { execFileSync } from 'node:child_process'
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { withdrawnFact } from '../src/crop/facts'
import { violations, violationsInBothThemes } from './accessible'
import { keptBy } from './kept'
import { Phones, type PhoneOptions } from './phone'
import { openSaleFarm, pricedLine, type SaleFarm } from './day_of_sales'
import { scratchFolder } from './shed'
import { everythingSent, go, readyForField } from './walk'
import { admit } from './writer'

let farm: SaleFarm
const phones = new Phones()
/** Where what is printed goes: to be looked at where CORYMB_PICTURES says where. */
const pictures = process.env['CORYMB_PICTURES'] ?? scratchFolder('papers')

beforeAll(async () => {
  mkdirSync(pictures, { recursive: true })
  farm = await openSaleFarm()
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

async function opened(cookie: string, options: PhoneOptions = {}): Promise<{ page: Page; context: BrowserContext }> {
  const { page, context } = await phones.add(options)
  await admit(context, farm.shed, cookie)
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor()
  await go(page, 'shed')
  await everythingSent(page)
  return { page, context }
}

const kinds = ['Bunch slips', 'Round', 'Delivery notes'] as const

async function openPaper(page: Page, kind: string): Promise<void> {
  await go(page, 'shed/papers')
  await page.getByRole('button', { name: kind, exact: true }).click()
}

/** Prints what stands there as a PDF and gives the text of each page. */
async function printed(page: Page, name: string, format: 'A4' | 'Letter'): Promise<string[]> {
  const file = join(pictures, `${name}-${format.toLowerCase()}.pdf`)
  writeFileSync(file, await page.pdf({ format, printBackground: false }))
  return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' }).split('\f').filter((text) => text.trim() !== '')
}

const paper = (page: Page) => page.locator('.paper-print')

describe('the papers of a day', () => {
  it('print what was packed on A4 and Letter, no slip or row cut, and nothing of the app', async () => {
    const { page } = await opened(farm.crew, { dark: true })
    for (const format of ['A4', 'Letter'] as const) {
      await openPaper(page, 'Bunch slips')
      expect(await page.locator('.slip').count()).toBe(31)
      const slips = await printed(page, 'slips', format)
      expect(slips).toHaveLength(2)
      // Each slip begins with its buyer and ends with the farm: as many of both on each page.
      for (const text of slips) {
        const starts = text.match(/Fern & Thimble|Stem pool, hall 2|Petra Quint/g)?.length
        expect(text.match(/Kiln Field Flowers/g)?.length).toBe(starts)
      }
      expect(slips[0]!.match(/Kiln Field Flowers/g)).toHaveLength(21)
      expect(slips.join('')).not.toMatch(/Shed|Which paper/)
      await openPaper(page, 'Delivery notes')
      const notes = await printed(page, 'notes', format)
      expect(notes).toHaveLength(3)
      expect(notes[0]).toMatch(/Fern & Thimble[\s\S]*ember, first, 40 cm\s+3 of 4\s+10\s+Elder, cut/)
      expect(notes.join('')).not.toMatch(/€|\d\.\d\d/)
      await openPaper(page, 'Round')
      const round = (await printed(page, 'round', format)).join('')
      expect(round).not.toContain('earlier')
      for (const told of ['3 Weir Lane', '+44 1632 960 001', 'Back door; ring twice', 'Before nine', '3 stops, 31 bunches', 'No phone number is known']) expect(round).toContain(told)
      await page.getByRole('link', { name: 'Pick list' }).click()
      await page.getByRole('heading', { level: 1, name: 'Pick list' }).waitFor()
      expect((await printed(page, 'pick', format)).join('')).toMatch(/30 stems from 1 bucket\.[\s\S]*Elder, cut.* 30 +Blumenhof Arnd: 20[\s\S]*of 60 +Fern & Thimble: 10/)
    }
    await openPaper(page, 'Round')
    await page.getByText('Nothing was packed yet for: Blumenhof Arnd').waitFor()
    expect(await paper(page).evaluate((element) => [getComputedStyle(element).color, getComputedStyle(element).backgroundColor])).toEqual(['rgb(0, 0, 0)', 'rgb(255, 255, 255)'])
  })

  it('are looked at on a phone by everybody, with nothing beside the screen', async () => {
    const { page } = await opened(farm.owner)
    for (const kind of [...kinds, 'Invoices']) {
      await openPaper(page, kind)
      expect([kind, await violationsInBothThemes(page)]).toEqual([kind, []])
    }
    await openPaper(page, 'Round')
    await page.getByRole('button', { name: 'One stop later: Fern & Thimble' }).click()
    const firstStop = () => page.locator('.stop h3').first().innerText()
    await expect.poll(firstStop).toBe('Petra Quint')
    await expect.poll(() => keptBy(page, 'papers.round')).toEqual(['quint', 'fern', 'pool'])
    await page.reload()
    await openPaper(page, 'Round')
    await expect.poll(firstStop).toBe('Petra Quint')
    for (const place of ['shed/papers/invoices', 'shed/availability']) {
      await go(page, place)
      await page.getByRole('heading', { level: 1 }).waitFor()
      expect([place, await violationsInBothThemes(page)]).toEqual([place, []])
    }
  })
})

describe('invoices', () => {
  it('get their number from the shed, once, and say which has a delivery already', async () => {
    const { page } = await opened(farm.owner)
    await openPaper(page, 'Invoices')
    const fern = page.locator('.bill').filter({ hasText: 'Fern & Thimble' })
    await fern.getByText('5 bunches stand on no invoice yet.').waitFor()
    await fern.getByRole('button', { name: 'Make the invoice' }).click()
    const link = fern.getByRole('link', { name: /^Invoice \d{4}-[A-Z]{3}-0001$/ })
    await link.waitFor()
    const number = (await link.innerText()).replace('Invoice ', '')
    expect(await fern.getByRole('button').count()).toBe(0)
    const again = await page.evaluate(async (date) => {
      const answer = await fetch('/api/invoices', { method: 'POST', body: JSON.stringify({ buyer: 'fern', orders: ['fern'], date }) })
      return { status: answer.status, told: await answer.json() as unknown }
    }, farm.today)
    expect(await violations(page)).toEqual([])
    expect(again).toMatchObject({ status: 409, told: { error: { code: 'billed' }, number } })
    for (const format of ['A4', 'Letter'] as const) {
      const [text = '', ...more] = await printed(page, 'invoice', format)
      expect(more).toEqual([])
      // By hand: 3 × 5.60 + 2 × 7.90 + 6.50 = 39.10; 7 % of it is 2.737, so 2.74; 41.84.
      expect(text).toMatch(/€16\.80[\s\S]*€15\.80[\s\S]*€6\.50[\s\S]*€39\.10[\s\S]*VAT, 7 %\s+€2\.74[\s\S]*Total\s+€41\.84/)
      expect(text).toContain(number)
    }
  })

  it('are refused for a line without a price until it has one', async () => {
    const { page } = await opened(farm.owner)
    await openPaper(page, 'Invoices')
    const quint = page.locator('.bill').filter({ hasText: 'Petra Quint' })
    await quint.getByText('No price is agreed for: oyster, first, 40 cm.').waitFor()
    await quint.getByRole('button', { name: 'Make the invoice' }).click()
    await quint.getByRole('alert').getByText('Nothing was billed.').waitFor()
    await farm.say(pricedLine(480))
    await expect.poll(() => quint.innerText()).not.toContain('No price is agreed')
    await quint.getByRole('button', { name: 'Give a discount' }).click()
    await quint.getByLabel('Percent off the bunches').fill('100')
    await quint.getByText('Tell a discount above 0 and less than the bunches come to').waitFor()
    await quint.getByLabel('Percent off the bunches').fill('12.5')
    await quint.getByText(/ for the bunches, .* off: .*\. Delivery and tax come on top\.$/).waitFor()
    await quint.getByRole('button', { name: 'Make the invoice' }).click()
    await quint.getByRole('link', { name: /-0002$/ }).waitFor()
    await page.getByRole('row', { name: /^Discount 12\.50 % −€/ }).waitFor()
    // By hand: 4.80 + 6.50 less an eighth of 4.80, 0.60, is 10.70; 7 % of it is 0.749, so 0.75; 11.45.
    expect((await printed(page, 'discount', 'A4')).join('')).toMatch(/€4\.80[\s\S]*€6\.50[\s\S]*Discount 12\.50 %\s+−€0\.60[\s\S]*€10\.70[\s\S]*€0\.75[\s\S]*€11\.45/)
  })

  it('credit a claim and are called void by notes with numbers of their own', async () => {
    const { page } = await opened(farm.owner)
    await go(page, 'shed/papers/invoices')
    await page.getByRole('link', { name: /-0001/ }).click()
    await page.getByRole('button', { name: 'Make the credit note' }).click()
    await page.getByRole('link', { name: /^Credit note .*-0003 −€5\.99$/ }).waitFor()
    await expect.poll(() => page.getByRole('button', { name: 'Make the credit note' }).count()).toBe(0)
    await go(page, 'shed/claims/a')
    await page.getByRole('button', { name: 'Not so' }).click()
    await page.getByRole('alert').getByText(/Credit note .*-0003 has this claim, so it stays/).waitFor()
    await page.getByRole('button', { name: 'Change' }).click()
    expect(await page.getByLabel('Stems', { exact: true }).isDisabled()).toBe(true)
    await page.getByRole('button', { name: 'too short' }).click()
    await page.getByRole('button', { name: 'Save the claim' }).click()
    await page.getByText('10 stems, too short').waitFor()
    expect(await violations(page)).toEqual([])
    await farm.say([withdrawnFact('claim', 'claim', true, 'shed')])
    await page.getByRole('button', { name: 'Bring the claim back' }).click()
    await page.getByText('10 stems, too short').waitFor()
    await page.getByRole('button', { name: 'Take one bunch back' }).click()
    await page.getByText(/^One bunch was taken back: 10 of ember/).first().waitFor()
    await page.getByText('1 bunch that is billed is packed no longer.').waitFor()
    await go(page, 'shed')
    await page.getByText('3 are billed, 2 packed.').waitFor()
    await page.getByRole('link', { name: /^Credit on .*-0001$/ }).click()
    await page.getByRole('button', { name: 'Credit 1 bunch' }).click()
    await page.getByRole('link', { name: /^Credit note .*-0004/ }).waitFor()
    await page.getByRole('button', { name: 'Call it void' }).click()
    await page.getByText('takes back all that is left').waitFor()
    await page.getByRole('button', { name: 'Call it void' }).click()
    await page.getByRole('link', { name: /^Credit note .*-0005/ }).click()
    // By hand: 39.10 less 5.60 twice is 27.90; 7 % of it is 1.953, so 1.95; 29.85.
    await expect.poll(() => paper(page).innerText()).toMatch(/−€27\.90[\s\S]*−€1\.95[\s\S]*−€29\.85/)
    await printed(page, 'credit', 'A4')
    await go(page, 'shed/papers/invoices')
    await page.getByText('void').first().waitFor()
    await openPaper(page, 'Invoices')
    await page.locator('.bill').filter({ hasText: 'Fern & Thimble' }).getByText('4 bunches stand on no invoice yet.').waitFor()
  })

  it('are not for the crew: no amount, no page, no number', async () => {
    const { page } = await opened(farm.crew)
    await openPaper(page, 'Bunch slips')
    expect(await page.getByRole('button', { name: 'Invoices' }).count()).toBe(0)
    expect(await page.locator('main').innerText()).not.toContain('€')
    await go(page, 'shed/papers/invoices')
    await page.getByText('Invoices are for the farm’s owners.').waitFor()
    expect(await page.locator('.rows').count()).toBe(0)
    const status = await page.evaluate(async (date) =>
      (await fetch('/api/invoices', { method: 'POST', body: JSON.stringify({ buyer: 'pool', orders: ['pool'], date }) })).status, farm.today)
    expect(status).toBe(403)
    await go(page, 'shed/availability')
    await page.getByRole('heading', { name: 'As a message' }).waitFor()
    expect(await page.getByLabel('With the prices of').count()).toBe(0)
    expect(await page.getByText('price of a bunch').count()).toBe(0)
  })
})

describe('what is on offer', () => {
  it('is what lies there less what is due, as a sheet, a message and a file', async () => {
    const { page, context } = await opened(farm.owner)
    await context.grantPermissions(['clipboard-read', 'clipboard-write'])
    await go(page, 'shed/availability')
    // By hand: ember 190 less 130 packed less 10 of the open bunch and 20 of the order that waits: 30.
    const table = paper(page).locator('table')
    await expect.poll(async () => (await table.innerText()).replace(/\s+/g, ' ')).toMatch(/ember, first, 50 cm Cut: \d+ \w+ 3 30/)
    await page.getByLabel('With the prices of').selectOption({ label: 'Florists in town' })
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360)
    await page.getByRole('button', { name: 'Copy the message' }).click()
    await page.getByText('Copied.').first().waitFor()
    const copied = await page.evaluate(() => navigator.clipboard.readText())
    expect(copied).toMatch(/^Available from Kiln Field Flowers\. In bunches of 10:/)
    expect(copied).toContain('\nember, first, 50 cm: 3 · €5.60')
    await page.getByRole('button', { name: 'Español' }).click()
    await expect.poll(() => page.locator('.send-text').inputValue()).toMatch(/ember, primera, 50 cm: 3 · EUR\s5\.60/)
    await page.getByRole('button', { name: 'Move up: colour class' }).click()
    await page.getByRole('checkbox', { name: 'length from' }).click()
    const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the CSV' }).click()])
    const [head, ...rows] = readFileSync(await download.path(), 'utf8').split('\r\n')
    expect(head).toBe('\uFEFFcolour,day,grade,length_unit,bunches,stems_per_bunch,price,currency')
    expect(rows).toContain(`"ember","${farm.today}","first","cm",3,10,"5.60","EUR"`)
    await page.reload()
    await go(page, 'shed/availability')
    await expect.poll(() => page.locator('.csv-columns').first().innerText()).toMatch(/^colour class/)
    for (const format of ['A4', 'Letter'] as const) expect((await printed(page, 'available', format)).join('')).toMatch(/Available[\s\S]*ember, first, 50 cm\s+3\s+30/)
  })
})

describe('with no signal', () => {
  it('papers without numbers print, and an invoice says that it needs the shed', async () => {
    const { page } = await opened(farm.owner)
    await readyForField(page)
    await farm.shed.kill()
    await openPaper(page, 'Delivery notes')
    expect(await printed(page, 'offline', 'A4')).toHaveLength(3)
    await openPaper(page, 'Invoices')
    const pool = page.locator('.bill').filter({ hasText: 'Stem pool' })
    await pool.getByRole('button', { name: 'Make the invoice' }).click()
    await pool.getByRole('alert').getByText('An invoice needs the shed').waitFor()
    await farm.shed.start()
    await go(page, 'shed')
    await everythingSent(page)
    await openPaper(page, 'Invoices')
    await pool.getByRole('button', { name: 'Make the invoice' }).click()
    await pool.getByRole('link', { name: /-0006$/ }).waitFor()
  })
})
