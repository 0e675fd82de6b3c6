// The farm's data in and out: spreadsheets read in with their columns matched, undone and read in again; tables and the
// whole farm saved; pictures of the page in CORYMB_PICTURES, if that is named.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { farmFacts, personFacts } from '../src/crop/facts'
import { violationsInBothThemes } from './accessible'
import { joinMany, whoIs } from './joining'
import { type PhoneOptions, Phones, phoneSize, laptopSize } from './phone'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField } from './walk'
import { admit, write } from './writer'

let shed: Shed
let owner: string
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('serve')
  const [writer, other] = await joinMany(shed, 2)
  if (writer === undefined || other === undefined) throw new Error('two devices were to join')
  owner = other
  const { farm, person } = await whoIs(shed, owner)
  const calendar = { start: '01-01', southern: false }
  await write(shed, farm, writer, [...personFacts({ id: person, name: 'Ilse' }), ...farmFacts({ id: farm, name: 'Made-up beds', unit: 'cm', calendar })])
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function filesPage(options: PhoneOptions = {}): Promise<Page> {
  const { page, context } = await phones.add(options)
  await admit(context, shed, owner)
  await page.goto(shed.url)
  await page.getByRole('navigation').first().waitFor()
  await go(page, 'shed/files')
  await page.locator('.sheet-card').waitFor()
  return page
}

async function choose(page: Page, name: string, text: string | Buffer): Promise<void> {
  await page.locator('.sheet-card input[type=file]').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })
  await page.getByRole('heading', { name }).waitFor()
}

const plants = 'Tag;Variety;Cama;Fecha de plantación;Remark\nA1;Mix;North;18/09/2024;\nA2;Mix;North;18/09/2024;leans\nA3;Mix;South;01/03/2026;\n'

async function picture(page: Page, name: string): Promise<void> {
  const folder = process.env['CORYMB_PICTURES']
  if (folder !== undefined) await page.screenshot({ path: join(folder, `files-${name}.png`), fullPage: true })
}

describe('a spreadsheet', () => {
  it('is matched, shown as it reads, taken in with no signal, undone at once and taken in again', async () => {
    const page = await filesPage()
    await readyForField(page)
    await go(page, 'shed/files')
    await page.context().setOffline(true)
    await choose(page, 'plants.csv', plants)
    await page.getByText('Not read: Remark.').waitFor()
    await page.getByText('3 new plants').waitFor()
    expect(await page.locator('.preview tbody tr').allInnerTexts()).toHaveLength(3)
    await page.getByRole('button', { name: 'Take it in' }).click()
    await page.getByText('plants.csv was taken in.').first().waitFor()
    await page.getByRole('button', { name: 'Undo' }).click()
    await choose(page, 'plants.csv', plants)
    await page.getByText('2 new beds').waitFor()
    await page.getByRole('button', { name: 'Take it in' }).click()
    await page.getByText('plants.csv was taken in.').first().waitFor()
    await choose(page, 'plants.csv', plants)
    await page.getByText('The farm holds all of this already: 3.').waitFor()
    await page.context().setOffline(false)
    await go(page, 'beds')
    await page.getByText('South').first().waitFor()
  })

  it('of cuts needs its columns, and each problem is told by its line', async () => {
    const page = await filesPage()
    await page.getByRole('button', { name: 'Cuts', exact: true }).click()
    await choose(page, 'cuts.csv', 'when,what,n,grade\n2026-05-20,A1,3,first\n2026-05-20,Z9,4,first\n')
    await page.getByText('Say which column holds: date and stems.').waitFor()
    await page.getByRole('combobox', { name: 'date (needed)' }).selectOption('when')
    await page.getByRole('combobox', { name: 'stems (needed)' }).selectOption('n')
    await page.getByRole('combobox', { name: 'plant', exact: true }).selectOption('what')
    await page.getByText('Line 3, plant: Plant “Z9” is not on the farm').waitFor()
    expect(await violationsInBothThemes(page)).toEqual([])
    await picture(page, 'problems')
    // What was matched by hand is remembered.
    await choose(page, 'more.csv', 'when,what,n,grade\n2026-05-20,A1,3,first\n')
    await page.getByText('1 visit to a plant with 3 stems').waitFor()
  })

  it('whose dates can be read in two ways is asked about', async () => {
    const page = await filesPage()
    await page.getByRole('button', { name: 'Weather', exact: true }).click()
    await choose(page, 'weather.csv', 'date;low;high\n01/02/2026;-1,5;7\n')
    await page.getByText('The dates could be read in two ways. Say how they are written.').waitFor()
    await page.getByRole('button', { name: 'day/month/year' }).click()
    await page.getByText('The weather of 1 day').waitFor()
  })

  it('that is no table is told so', async () => {
    const page = await filesPage()
    await page.locator('.sheet-card input[type=file]').setInputFiles({ name: 'x.xlsx', mimeType: 'application/zip', buffer: Buffer.from([0x50, 0x4b, 3, 4, 0, 0, 1, 2]) })
    await page.getByText('This is no table of text.').waitFor()
  })

  it('of sales is an order that is packed', async () => {
    const page = await filesPage()
    await page.getByRole('button', { name: 'Sales', exact: true }).click()
    await choose(page, 'sales.csv', 'date,buyer,channel,colour,bunches,stems per bunch,price\n2026-05-21,Studio Nord,Florists,Brick,4,10,5.20\n')
    await page.getByText('Say first what each of these channels is.').waitFor()
    await page.getByLabel('“Florists” is').selectOption({ label: 'Wholesale' })
    await page.getByLabel('Percent that Florists keeps').fill('12.5')
    await picture(page, 'channels')
    await page.getByText('1 order, packed, with 4 bunches').waitFor()
    await page.getByText('A new channel, Florists').waitFor()
    await page.getByRole('button', { name: 'Take it in' }).click()
    await page.getByText('sales.csv was taken in.').first().waitFor()
    await go(page, 'shed/orders/buyers')
    await page.getByText('Studio Nord').first().waitFor()
  })
})

describe('what is saved', () => {
  async function saved(page: Page, name: string | RegExp): Promise<{ readonly name: string; readonly bytes: Buffer }> {
    // By the link's own click: where a line comes or goes above it, a pointer meets what stood beside it.
    const link = page.getByRole('link', { name })
    const [file] = await Promise.all([page.waitForEvent('download'), link.evaluate((a: HTMLElement) => a.click())])
    return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) }
  }

  it('is everything in one file, all tables, and each', async () => {
    const page = await filesPage()
    await readyForField(page) // while the app is being put on the device, lines come and go above what is tapped
    await go(page, 'shed/files')
    await everythingSent(page) // what the shed gives is offered only while it is on the line
    const all = await saved(page, 'Save everything')
    expect(all.name).toMatch(/^corymb-export-\d{4}-\d\d-\d\d\.zip$/)
    expect(all.bytes.subarray(0, 2).toString()).toBe('PK')
    await page.getByRole('button', { name: 'Spanish: semicolons, 1,50' }).click()
    expect((await saved(page, 'Save all tables')).name).toMatch(/^corymb-tables-.*\.zip$/)
    await page.getByText('Each table by itself').click()
    const beds = page.getByRole('link', { name: /^camas:/ })
    await beds.waitFor()
    // A list that was opened is still open when the line was away for a moment.
    await page.context().setOffline(true)
    await page.getByText('Tables and the whole farm come from the shed').waitFor()
    expect(await beds.isVisible()).toBe(false)
    await page.context().setOffline(false)
    await beds.waitFor()
    const one = await saved(page, /^camas:/)
    expect([one.name.startsWith('corymb-camas-'), one.bytes.toString().startsWith('\uFEFFnombre;')]).toEqual([true, true])
  })
})

describe.each([
  ['phone', { size: phoneSize }], ['phone dark Spanish', { size: phoneSize, dark: true, locale: 'es-MX' }],
  ['laptop', { size: laptopSize }], ['laptop dark Spanish', { size: laptopSize, dark: true, locale: 'es-MX' }],
] as const)('on a %s', (look, options) => {
  it('the page fits and can be used by everybody', async () => {
    const page = await filesPage(options)
    await page.locator('details summary').waitFor()
    await picture(page, look.replaceAll(' ', '-'))
    await choose(page, 'plantas.csv', plants.replaceAll('A', 'B'))
    await page.locator('.preview').waitFor()
    await picture(page, `${look.replaceAll(' ', '-')}-open`)
    expect(await violationsInBothThemes(page)).toEqual([])
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
  })
})
