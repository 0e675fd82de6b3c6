// The bench beside the row, with no signal.

import { afterAll, beforeAll, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { countHandful, countedBed, go, openWalk, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

it('counted plants are at least what the bench must hold, with no signal', async () => {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page)
  await readyForField(page)
  await shed.kill()
  await page.reload()
  await openWalk(page)
  await countHandful(page, 7)
  await countHandful(page, 8)
  await go(page, 'shed')
  const told = page.locator('.bench-row .card', { hasText: countedBed })
  await told.getByText('Row at least 15; nothing on the bench yet.').waitFor()

  await page.locator('.bench select').first().selectOption({ label: countedBed })
  await page.getByRole('button', { name: /^first, 50 to 60 centimetres/ }).click()
  await told.getByText('Row at least 15, bench 10: at least 5 fewer on the bench.').waitFor()
  await told.getByText('In the row only a part was counted').waitFor()
  await told.getByText(/a bucket not counted yet/).waitFor()
  await page.getByRole('button', { name: /^first, 50 to 60 centimetres/ }).click()
  await told.getByText('Row at least 15, bench 20.').waitFor()
  expect(await told.getByText(/a bucket not counted yet/).count()).toBe(0)
})
