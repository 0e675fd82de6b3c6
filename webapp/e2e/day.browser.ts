// A grower's day with a phone in the row and a laptop in the shed: an order is taken, cut for with no signal, counted over
// the bench, planned, packed with no signal, put on paper and billed.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type CutFarm, openCutFarm } from './cut_farm'
import { laptopSize, Phones } from './phone'
import { countHandful, everythingSent, go, openWalk, readyForField } from './walk'

let farm: CutFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openCutFarm()
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

async function device(nth: number, size?: { width: number; height: number }): Promise<Page> {
  const { page, context } = await phones.add(size ? { size } : { touch: true })
  await farm.admit(context, nth)
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor()
  await readyForField(page)
  return page
}

it('goes from the order to the invoice', async () => {
  const [laptop, phone] = [await device(0, laptopSize), await device(1)]

  // The morning's order: two bunches of ember more, at six.
  await go(laptop, 'shed/orders/new')
  await laptop.getByRole('button', { name: /^Quay Flowers/ }).click()
  await laptop.getByRole('button', { name: 'today' }).first().click()
  await laptop.getByRole('button', { name: 'Add a line' }).click()
  await laptop.getByRole('button', { name: 'More: bunches' }).click()
  await laptop.getByRole('button', { name: 'ember', exact: true }).click()
  await laptop.getByLabel('Price a bunch').fill('6')
  await laptop.getByRole('button', { name: 'Done' }).click()
  await laptop.getByRole('button', { name: 'Take the order' }).click()
  await laptop.locator('.last-done').waitFor()
  await go(laptop, 'shed')
  await everythingSent(laptop)

  // The cut, with no signal: 30 + 20 less the cooler's 12, a little over.
  await go(phone, 'row/cuts')
  await phone.locator('.cut-row', { hasText: 'ember' }).first().waitFor()
  await phone.context().setOffline(true)
  await openWalk(phone, 'Alder')
  for (const stems of [9, 9]) await countHandful(phone, stems)
  await phone.locator('.cut-line', { hasText: '18 cut' }).waitFor()
  await phone.context().setOffline(false)
  await go(phone, 'shed')
  await everythingSent(phone)

  // Over the bench.
  await go(laptop, 'shed')
  await laptop.locator('.bench select').first().selectOption({ label: 'Alder' })
  await laptop.getByRole('button', { name: 'ember', exact: true }).click()
  for (let bunch = 0; bunch < 4; bunch++) await laptop.getByRole('button', { name: /^first, 50 to 60 centimetres/ }).click()
  await laptop.locator('.bench-row .card', { hasText: 'Row at least 18, bench 40.' }).waitFor()
  await everythingSent(laptop)

  // The plan: 52 stems of ember fill both orders, and the oldest go first.
  await go(laptop, 'shed/packing')
  await laptop.locator('.packing > .say b').waitFor()
  expect(await laptop.locator('.packing > .say').innerText()).toBe('50 of 52 stems placed; nothing places them for more.')

  // Packing, with no signal.
  await go(phone, 'shed/packing')
  await phone.locator('.packing > .say b').waitFor()
  await phone.context().setOffline(true)
  await phone.locator('.packing-act a', { hasText: 'Start packing' }).tap()
  const line = phone.locator('.pack-line', { hasText: 'Quay Flowers' })
  await line.locator('.pack-tap').tap()
  await line.locator('.pack-tap').tap()
  await expect.poll(() => line.locator('.pack-count b').innerText()).toBe('2 of 2')
  await phone.context().setOffline(false)
  await go(phone, 'shed')
  await everythingSent(phone)

  // On paper, and billed once.
  await go(laptop, 'shed/papers')
  await laptop.getByRole('button', { name: 'Delivery notes', exact: true }).click()
  const note = laptop.locator('.paper-print')
  await note.getByText('Quay Flowers').first().waitFor()
  expect(await note.innerText()).toContain('2')
  await laptop.getByRole('button', { name: 'Invoices', exact: true }).click()
  const bill = laptop.locator('.bill').filter({ hasText: 'Quay Flowers' })
  await bill.getByRole('button', { name: 'Make the invoice' }).click()
  await bill.getByRole('link', { name: /^Invoice \d{4}-[A-Z]{3}-0001$/ }).click()
  await laptop.locator('.paper-print').getByText('12.00').first().waitFor()

  // The twelve of yesterday went first: of today's 40, 32 are left.
  await go(laptop, 'shed/cooler')
  await laptop.getByText(/^32 stems|32 stems/).first().waitFor()
})
