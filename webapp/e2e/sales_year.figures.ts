// How quickly each screen of selling opens on a farm that sold 20,000 bunches to 300 buyers within a year: from the tap to
// the second frame with the page's heading, at full speed and under 4x CPU throttling. At full speed each is to open in
// under a second. Run by npm run --prefix webapp figures -- e2e/sales_year.figures.ts; it needs Go, to write invoices as
// only a shed may. CORYMB_PICTURES may name a folder for a picture of each screen.

import { execFileSync } from 'node:child_process'
import { rmSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { dayOf } from '../src/crop/day'
import { lotCell } from '../src/crop/lots'
import { href } from '../src/ui/route'
import { joinMany, whoIs } from './joining'
import { laptopSize, type Phone, Phones, phoneSize } from './phone'
import { sold, type SoldYear } from './sales_farm'
import { openShed, scratchFolder, type Shed } from './shed'
import { admit, write } from './writer'

/** What a screen may take at full speed, in milliseconds. */
const limit = 1_000
const rounds = 5
const today = dayOf(new Date())

/** Each screen is kept here as a picture, where a folder is told. */
const pictures = process.env['CORYMB_PICTURES']
const data = scratchFolder('sales-year')
let shed: Shed
let reader = ''
let year: SoldYear
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('serve', { data })
  const [writer, other] = await joinMany(shed, 2)
  reader = other!
  const { farm, person } = await whoIs(shed, reader)
  year = sold(farm, person, today)
  console.log(`${year.facts.length} changes but for the invoices, ${year.bunches} bunches`)
  expect(year.bunches).toBeGreaterThan(18_000)
  await write(shed, farm, writer!, year.facts)
  await shed.stop()
  console.log(billed())
  await shed.start()
}, 600_000)

afterAll(async () => {
  await phones.close()
  await shed.close()
  rmSync(data, { recursive: true, force: true })
})

/** Has the deliveries billed; gives what was said of it. */
function billed(): string {
  const args = ['test', './server/billing', '-run', 'BillsAFarmsYear', '-count=1', '-v', '-billing.farm', data]
  const said = execFileSync('go', args, { cwd: join(import.meta.dirname, '../..'), encoding: 'utf8' })
  return /\d+ invoices and credit notes/.exec(said)?.[0] ?? said
}

interface Screen {
  readonly name: string
  readonly hash: string
  /** What it has once it is drawn, apart from its heading. */
  readonly shows: string
  /** Chosen on it before it is left and opened again. */
  readonly choice?: string
}

function screens({ billed, open, oldLot }: SoldYear): Screen[] {
  const at = (name: string, shows: string, ...parts: readonly string[]): Screen => ({ name, shows, hash: href('shed', ...parts) })
  const paper = (choice: string, shows: string): Screen => ({ ...at(`papers of today: ${choice}`, shows, 'papers', today), choice })
  return [
    at('the shed, with what needs a look', '.looks .card'),
    at('orders', '.delivery', 'orders'), at('an order', '.page', 'orders', 'order', open.order), at('a new order', '.page', 'orders', 'new'),
    at('a new order of a buyer', 'form', 'orders', 'new', open.buyer), at('standing orders', '.delivery', 'orders', 'standing'),
    at('a standing order', '.page', 'orders', 'standing', 'standing 0'), at('buyers', '.rows .line', 'orders', 'buyers'),
    at('a buyer', '.page', 'orders', 'buyers', billed.buyer), at('prices', '.page', 'orders', 'prices'),
    { name: 'the cut list', hash: href('row', 'cuts'), shows: '.cuts-sum' },
    at('the packing plan', '.packing-columns', 'packing', today), at('packing', '.pack-line', 'packing', today, 'pack'),
    at('what to fetch', '.pack-line', 'packing', today, 'pick'), at('a bunch by hand', '.packing-act', 'packing', today, 'hand', open.order, open.line.id),
    at('the cooler', '.cooler button.line', 'cooler'), at('a lot', '.page', 'lot', lotCell(oldLot)),
    at('claims', '.page', 'claims'), at('a line', '.page input', 'claims', billed.line.id),
    paper('Bunch slips', '.slip'), paper('Pick list', '.sheet table'), paper('Round', '.stop'), paper('Delivery notes', '.letter-sign'), paper('Invoices', '.bill'),
    at('invoices', '.rows .line', 'papers', 'invoices'), at('an invoice', '.sums', 'papers', 'invoice', `invoice of ${billed.order}`),
    at('availability', '.papers-filter', 'availability'),
  ]
}

it.each([['a phone', phoneSize, 1], ['a phone under 4x throttling', phoneSize, 4], ['a laptop', laptopSize, 1]] as const)('screens open on %s', async (name, size, slower) => {
  const { page, context } = await joined(size)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: slower })
  const slow: string[] = []
  for (const screen of screens(year)) {
    const { median, slowest } = await timed(page, screen)
    if (pictures !== undefined) await page.screenshot({ path: join(pictures, `${name}, ${screen.name.replace(/\W+/g, ' ')}.png`) })
    const said = `${screen.name} median ${median.toFixed(0)} ms, slowest of ${rounds} ${slowest.toFixed(0)}`
    console.log(`${name}: ${said}`)
    if (slower === 1 && median >= limit) slow.push(said)
  }
  await context.close()
  expect(slow).toEqual([])
}, 600_000)

it('a lot is written off', async () => {
  const { page, context } = await joined(phoneSize)
  await page.goto(`${shed.url}/${href('shed', 'cooler')}`)
  const times: number[] = []
  for (let round = 0; round < rounds; round++) {
    await page.locator('.cooler button.line').nth(1).click()
    times.push(await page.evaluate(async () => {
      const begun = performance.now()
      document.querySelector<HTMLElement>('.reasons .btn')!.click()
      while (document.querySelector('.undoable') === null) await new Promise(requestAnimationFrame)
      return performance.now() - begun
    }))
    await page.locator('.undoable .btn').click()
    await page.locator('.undoable').waitFor({ state: 'detached' })
  }
  const { median, slowest } = of(times)
  console.log(`a lot written off on a phone, until it is seen: median ${median.toFixed(0)} ms, slowest of ${rounds} ${slowest.toFixed(0)}`)
  await context.close()
  expect(median).toBeLessThan(limit)
}, 600_000)

/** A new device with the whole year on it. */
async function joined(size: { readonly width: number; readonly height: number }): Promise<Phone> {
  const phone = await phones.add({ size })
  await admit(phone.context, shed, reader)
  phone.page.setDefaultTimeout(170_000)
  await phone.page.goto(`${shed.url}/${href('shed')}`)
  await phone.page.getByText('Ready for the field').filter({ visible: true }).first().waitFor()
  await phone.page.getByText('Needs a look').first().waitFor()
  return phone
}

async function timed(page: Page, { hash, shows, choice }: Screen): Promise<Figures> {
  if (choice !== undefined) {
    await opened(page, hash, 'h1')
    await page.getByRole('button', { name: choice, exact: true }).click()
  }
  const times: number[] = []
  for (let round = 0; round < rounds; round++) times.push(await opened(page, hash, shows))
  return of(times)
}

interface Figures {
  readonly median: number
  readonly slowest: number
}

function of(times: readonly number[]): Figures {
  const sorted = [...times].sort((a, b) => a - b)
  return { median: sorted[Math.floor(rounds / 2)]!, slowest: sorted.at(-1)! }
}

/** Milliseconds from another page to this one's second frame with what it shows. */
async function opened(page: Page, hash: string, shows: string): Promise<number> {
  await page.evaluate(() => { location.hash = '#/beds' })
  await page.locator('.bed-list, h1').first().waitFor()
  await page.waitForTimeout(300)
  return page.evaluate(async ([hash, shows]) => {
    const before = document.querySelector('h1')?.textContent
    const begun = performance.now()
    location.hash = hash
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve))
    // While the code of a page is fetched there is no heading.
    const drawn = () => ![undefined, before].includes(document.querySelector('h1')?.textContent ?? undefined) && document.querySelector(shows) !== null
    while (!drawn()) {
      if (performance.now() - begun > 20_000) throw new Error(`${hash} shows no ${shows}`)
      await frame()
    }
    await frame()
    await frame()
    return performance.now() - begun
  }, [hash, shows] as const)
}
