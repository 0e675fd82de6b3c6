// Money on the made-up farm: costs typed one after the other, invoices paid, a statement looked through row by row, and one
// pasted; the season's report saved; for owners alone.

import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bedFacts, farmFacts, personFacts } from '../src/crop/facts'
import { costFacts, paymentFacts } from '../src/crop/money_facts'
import type { CostID, PaymentID } from '../src/crop/money_nouns'
import type { BedID, Day, Millimetres } from '../src/crop/nouns'
import { buyerFacts, lineFacts, orderFacts } from '../src/crop/sale_facts'
import type { BuyerID, Cents, LineID, OrderID } from '../src/crop/sale_nouns'
import { bedWith } from '../src/crop/testing/nouns'
import { lineWith } from '../src/crop/testing/sold'
import { violationsAlong } from './accessible'
import { invite, joinBy, joinMany, whoIs } from './joining'
import { laptopSize, Phones, phoneSize } from './phone'
import { openShed, type Shed } from './shed'
import { ago, openSoldFarm, today } from './sold_farm'
import { go, sayWho } from './walk'
import { admit, write } from './writer'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function device(more: Parameters<Phones['add']>[0] = {}): Promise<Page> {
  const { page } = await phones.add(more)
  await page.goto(shed.url)
  await sayWho(page)
  return page
}

const tap = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' }).click()
const said = (page: Page, text: string | RegExp) => page.locator('.undoable', { hasText: text }).waitFor()

/** All together and what is fixed, in cents; none where no cost is there yet. */
async function sums(page: Page): Promise<number[]> {
  return (await page.locator('.sums dd').allInnerTexts()).map((text) => Number(text.replace(/\D/g, '')))
}

async function openStatement(page: Page): Promise<void> {
  await go(page, 'money/statements')
  await page.getByRole('link', { name: /^Stem pool/ }).click()
  await page.locator('.statement-rows').first().waitFor()
}

describe('costs', () => {
  it('are typed one after the other, put right, deleted and brought back, and summed', async () => {
    const page = await device()
    await go(page, 'money/costs')
    await page.getByLabel('Season').waitFor()
    const [all = 0, fixed = 0] = await sums(page)
    await tap(page, 'Write a cost down')
    await page.getByLabel('What, in a few words').fill('Netting')
    await page.getByLabel('Amount in EUR').fill('74.90')
    await page.getByLabel('Amount in EUR').press('Enter')
    await said(page, '€74.90 written down.')
    await expect.poll(() => page.getByLabel('What, in a few words').inputValue()).toBe('')
    await page.keyboard.type('Rent')
    await page.getByLabel('Amount in EUR').fill('nothing')
    await tap(page, 'Write it down')
    await page.getByRole('alert').getByText(/^Tell an amount/).waitFor()
    await page.getByLabel('Amount in EUR').fill('100')
    await page.getByLabel(/^Fixed/).check()
    await tap(page, 'Write it down')
    await said(page, '€100.00 written down.')
    await tap(page, 'Done')
    await expect.poll(() => sums(page)).toEqual([all + 17490, fixed + 10000])
    await tap(page, /^Rent ?Supplies/)
    await page.getByLabel('Amount in EUR').fill('90')
    await tap(page, 'Write it down')
    await expect.poll(() => sums(page)).toEqual([all + 16490, fixed + 9000])
    await tap(page, /^Rent ?Supplies/)
    await tap(page, 'Delete')
    await expect.poll(() => sums(page)).toEqual([all + 7490, fixed])
    await tap(page, 'Undo')
    await expect.poll(() => sums(page)).toEqual([all + 16490, fixed + 9000])
  })
})

it('an invoice is paid with one tap, in part, and taken back, and tells so itself', async () => {
  const page = await device()
  await go(page, 'money/unpaid')
  const first = page.locator('section', { hasText: 'Overdue' }).getByRole('link').first()
  const left = await first.locator('.num').innerText()
  await first.click()
  await tap(page, `${left} came today`)
  await page.locator('.say', { hasText: ': paid' }).waitFor()
  await tap(page, 'Undo')
  await page.locator('.say', { hasText: 'overdue' }).waitFor()
  await tap(page, 'Another amount or day')
  await page.getByLabel('Amount, below 0 if paid back').fill('1')
  await tap(page, 'Write it down')
  await page.locator('.say', { hasText: 'paid in part, overdue' }).waitFor()
  await page.getByRole('link', { name: 'See the invoice' }).click()
  await page.getByRole('link', { name: 'Payments: paid in part, overdue' }).click()
  await page.locator('.say', { hasText: 'paid in part, overdue' }).waitFor()
})

it('what was paid for an order is put right, deleted and brought back on the delivery’s own page, also once it is withdrawn', async () => {
  const order = { id: 'paid' as OrderID, buyer: 'paying' as BuyerID, due: today, taken: '', note: '' } as const
  const line = lineWith({ id: 'paid line' as LineID, order: order.id, grade: '', length: 0 as Millimetres })
  const farm = await openSoldFarm(() => [
    ...buyerFacts(order.buyer, { name: 'Paying at the gate' }), ...orderFacts(order), ...lineFacts(line),
    ...paymentFacts('paid' as PaymentID, { order: order.id, date: ago(1), cents: 1040 as Cents }),
  ])
  try {
    const { context, page } = await phones.add({ size: phoneSize })
    await farm.admit(context)
    await page.goto(farm.shed.url)
    await go(page, 'shed/orders/order/paid')
    await page.locator('dd', { hasText: '10.40' }).nth(1).waitFor()
    await page.getByRole('link', { name: 'Look at the payment' }).click()
    await page.locator('.say', { hasText: 'Paying at the gate' }).waitFor()
    await page.locator('.rows button').click()
    await page.getByLabel('Amount, below 0 if paid back').fill('9.40')
    await tap(page, 'Write it down')
    await said(page, '9.40 paid.')
    expect(await page.locator('.rows .num').innerText()).toContain('9.40')
    await page.locator('.rows button').click()
    await tap(page, 'Delete')
    await said(page, '9.40 deleted.')
    await page.getByText('Nothing is written down as paid for this delivery by itself.').waitFor()
    await tap(page, 'Undo')
    await page.locator('.rows .num', { hasText: '9.40' }).waitFor()
    expect(await violationsAlong(page, [['payments of an order', () => go(page, 'money/order/paid')]])).toEqual([])
    await go(page, 'shed/orders/order/paid')
    await tap(page, 'Withdraw the order')
    await page.waitForURL(/orders$/)
    await go(page, 'shed/orders/order/paid')
    await page.getByRole('link', { name: 'Look at the payment' }).click()
    await page.locator('.rows .num', { hasText: '9.40' }).waitFor()
  } finally {
    await farm.close()
  }
})

describe('a statement', () => {
  it('tells what differs, and each difference is settled with one tap', async () => {
    const page = await device()
    await openStatement(page)
    await page.locator('.say', { hasText: '2 differences open' }).waitFor()
    await page.getByText(/1 bunch less than was delivered\. €\d\.\d\d less than agreed\./).waitFor()
    await page.locator('li.differs', { hasText: 'less than agreed' }).getByRole('button', { name: 'Let it stand' }).click()
    await said(page, 'It stands as it is.')
    await page.locator('.say', { hasText: '1 difference open' }).waitFor()
    await page.locator('section', { hasText: '1 delivery is on no statement' }).getByRole('button', { name: 'Let it stand' }).click()
    await page.locator('.say', { hasText: 'nothing open' }).waitFor()
    await page.getByText('Not on the statement: you let that stand.').waitFor()
    await tap(page, 'Undo')
    await page.locator('.say', { hasText: '1 difference open' }).waitFor()
  })

  it('is typed and pasted on a laptop, found row by row, and deleted with its rows', async () => {
    const page = await device({ size: laptopSize })
    await go(page, 'money/statements')
    const year = new Date().getFullYear() - 1 // in whose January nothing was delivered
    await tap(page, 'A new statement')
    await page.getByLabel('First day').fill(`${year}-01-01`)
    await page.getByLabel('Last day').fill(`${year}-01-31`)
    await page.getByLabel(/^Sum at its foot/).fill('30')
    await tap(page, 'Write it down')
    await page.getByText('Type its rows, or paste them.').waitFor()
    await page.getByLabel('As printed').fill('Dahlia')
    await page.getByLabel('Bunches').fill('99')
    await page.getByLabel('Amount', { exact: true }).fill('66.00')
    await page.getByLabel('Kept of it').fill('13.20')
    await page.getByLabel('Kept of it').press('Enter')
    await said(page, 'Row 1: €66.00.')
    await page.getByText('Not ours: nothing like it was delivered in these days.').waitFor()
    await page.getByText('The foot says €22.80 less than the rows.').waitFor()
    await page.getByText('Paste rows of a table').click()
    await page.getByLabel('Lines').fill('Date\tWhat\tBunches\tAmount\n31/12\tGone')
    await page.getByText('No amount like 66.00 in: 31/12').waitFor()
    await page.getByLabel('Days are written').selectOption('day first: 31/12')
    await page.getByLabel('Lines').fill('Date\tWhat\tBunches\tPrice\tAmount\tKept\n25/01\tWhite\t98\t5.00\t490.00\t98.00\n26/01\tRed\t97\t5.00\t485.00\t97.00')
    await tap(page, 'Write 2 rows down')
    await said(page, '2 rows written down.')
    expect(await page.locator('.row-line').count()).toBe(3)
    await tap(page, 'Change head and foot')
    await tap(page, 'Delete')
    await page.getByText('There is no such statement here.').waitFor()
    await tap(page, 'Undo')
    await page.locator('.row-line').nth(2).waitFor()
  })
})

describe('on a farm of people', () => {
  let own: Shed
  let owner = ''
  const season = new Date().getFullYear()
  const ofPeople = new Phones()

  beforeAll(async () => {
    own = await openShed('serve')
    const [writer = '', other = ''] = await joinMany(own, 2)
    owner = other
    const { farm, person } = await whoIs(own, owner)
    await write(own, farm, writer, [
      ...farmFacts({ id: farm, name: 'Larkfield', unit: 'cm', calendar: { start: '01-01', southern: false } }),
      ...personFacts({ id: person, name: 'Ilse' }), ...bedFacts(bedWith({ id: 'b' as BedID, name: 'North' })),
      ...costFacts('c' as CostID, { date: `${season}-01-01` as Day, kind: 'supplies', what: 'Netting', cents: 7490 as Cents }),
    ])
  })

  afterAll(async () => {
    await ofPeople.close()
    await own.close()
  })

  async function device(cookie: string): Promise<Page> {
    const { page, context } = await ofPeople.add()
    await admit(context, own, cookie)
    await page.goto(own.url)
    await page.getByRole('navigation').first().waitFor()
    return page
  }

  it('an owner saves the season’s report', async () => {
    const page = await device(owner)
    await go(page, 'money')
    const link = page.getByRole('link', { name: `Season report ${season} (PDF)` })
    const [file] = await Promise.all([page.waitForEvent('download'), link.evaluate((a: HTMLElement) => a.click())])
    expect(file.suggestedFilename()).toBe(`corymb-report-${season}.pdf`)
    expect(readFileSync(await file.path()).subarray(0, 5).toString()).toBe('%PDF-')
  })

  it('crew sees nothing of it, and is given no report', async () => {
    const cookie = await joinBy(own, await invite(own, owner, crypto.randomUUID(), 'crew', 'Ben'))
    const page = await device(cookie)
    expect(await page.getByRole('link', { name: 'Money' }).count()).toBe(0)
    await go(page, 'money/costs')
    await page.getByText('Money is for owners.').waitFor()
    await go(page, 'money')
    await page.getByText('Money is for owners.').waitFor()
    expect(await page.getByRole('link', { name: /^Season report/ }).count()).toBe(0)
    expect((await fetch(`${own.url}/api/report?season=${season}`, { headers: { cookie } })).status).toBe(403)
  })
})

describe('everybody can use it', () => {
  const pages = [
    ['money', (page: Page) => go(page, 'money')],
    ['costs', (page: Page) => go(page, 'money/costs')],
    ['a cost', (page: Page) => page.locator('.btn.main').click()],
    ['unpaid', (page: Page) => go(page, 'money/unpaid')],
    ['payments', (page: Page) => page.locator('.rows a').first().click()],
    ['statements', (page: Page) => go(page, 'money/statements')],
    ['a new statement', (page: Page) => page.locator('.btn.main').click()],
    ['a statement', (page: Page) => go(page, 'money/statements').then(() => page.getByRole('link', { name: /^Stem pool/ }).last().click())],
    ['a row', (page: Page) => page.locator('.row-line').first().click()],
    ['work', (page: Page) => go(page, 'row/work')],
  ] as const
  it.each(['en-US', 'es-MX'])('in %s', async (locale) => {
    const { page } = await phones.add({ locale, size: phoneSize })
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    expect(await violationsAlong(page, pages)).toEqual([])
  })
})
