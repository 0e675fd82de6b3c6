// The bench, the cooler, claims and what needs a look of the sales, on a phone with no signal.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { violationsInBothThemes } from './accessible'
import { Phones } from './phone'
import { aMorning, lot, openSoldFarm, type SoldFarm } from './sold_farm'
import { lotCell } from '../src/crop/lots'
import { go } from './walk'

let farm: SoldFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openSoldFarm(aMorning)
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

const coral = /coral, extra, 60 cm/

async function phone(): Promise<Page> {
  const { page, context } = await phones.add({ touch: true })
  await farm.admit(context)
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor()
  await go(page, 'shed')
  await page.getByText('Ready for the field').filter({ visible: true }).first().waitFor()
  await page.getByText('Needs a look').first().waitFor()
  return page
}

it('a bench total with how open it was is in the cooler, is written off and brought back, with no signal', async () => {
  const page = await phone()
  await farm.shed.kill()
  await page.reload()
  await page.locator('.bench select').first().selectOption({ label: 'Elder' })
  await page.getByRole('button', { name: 'garnet', exact: true }).tap()
  await page.getByRole('button', { name: 'full bloom', exact: true }).tap()
  const cell = page.getByRole('button', { name: /^first, 50 to 60 centimetres/ })
  await cell.tap()
  await cell.tap()
  await page.locator('.bench-day .card', { hasText: 'Elder' }).getByText('full bloom').waitFor()
  // Said otherwise of a total that is begun, and right again.
  await page.getByRole('button', { name: 'opening', exact: true }).tap()
  await page.locator('.bench-day .card', { hasText: 'Elder' }).getByText('opening').waitFor()

  await go(page, 'shed/cooler')
  const row = page.locator('.cooler .rows > li:has(> button.line)', { hasText: 'garnet, first, 50 cm' }).filter({ hasText: 'cut today' })
  await row.getByText('2 bunches of ten').waitFor()
  await row.getByRole('button').first().tap()
  await row.getByRole('button', { name: 'wilted' }).tap()
  await page.getByText('20 stems of garnet, first, 50 cm written off: wilted.').filter({ visible: true }).last().waitFor()
  await expect.poll(() => row.count()).toBe(0)
  await page.locator('.undoable').getByRole('button', { name: 'Undo' }).tap()
  await row.getByText('2 bunches of ten').waitFor()

  // A number of them, in another way than by all.
  await row.getByRole('button').first().tap()
  await row.getByLabel('Stems').fill('25')
  await row.getByRole('button', { name: 'broken' }).tap()
  await page.getByText('There are 20 stems of this lot.').waitFor()
  await row.getByLabel('Stems').fill('5')
  await row.getByRole('button', { name: 'broken' }).tap()
  await row.getByText('1 bunch of ten + 5').waitFor()

  await page.reload()
  await row.getByText('1 bunch of ten + 5').waitFor()
  await row.getByRole('button').first().tap()
  await row.getByRole('link', { name: 'Where it came from and went' }).tap()
  await page.locator('.facts').getByText('opening').waitFor()
  await page.locator('.facts').getByText('season 3 in the ground').waitFor()
})

it('what is past its life is apart, and is written off and brought back at once', async () => {
  const page = await reopened('shed/cooler')
  await page.getByText('Past their vase life and not for sale: 34 stems of 2 lots.').waitFor()
  await page.getByRole('button', { name: 'Write all of it off as too old' }).tap()
  await page.getByText('34 stems of 2 lots written off: too old.').filter({ visible: true }).last().waitFor()
  await expect.poll(() => page.getByText('not for sale').count()).toBe(0)
  await page.locator('.undoable').getByRole('button', { name: 'Undo' }).tap()
  await page.getByText('34 stems of 2 lots.').waitFor()
})

it('a claim is recorded at a packed line, of the lot that it was packed from', async () => {
  const page = await reopened('shed/claims')
  await page.getByLabel('Buyer').selectOption({ label: 'Studio Nord' })
  await page.getByRole('link', { name: /4 bunches packed/ }).tap()
  await page.getByRole('heading', { name: 'Studio Nord' }).waitFor()
  const form = page.locator('form.card')
  expect(await form.getByRole('button', { name: /ember, first, 50 cm/ }).getAttribute('aria-pressed')).toBe('true')
  await form.getByLabel('Stems', { exact: true }).fill('41')
  await form.getByRole('button', { name: 'Record the claim' }).tap()
  await page.getByText('Only 40 stems were packed for this line.').waitFor()
  await form.getByLabel('Stems', { exact: true }).fill('10')
  await form.getByRole('button', { name: 'shattered' }).tap()
  await form.getByRole('button', { name: /What they cost: €5.20/ }).tap()
  await form.getByRole('button', { name: 'Record the claim' }).tap()
  await page.getByText('Claim recorded: 10 stems.').filter({ visible: true }).last().waitFor()
  await page.getByText('€5.20 still to be credited').waitFor()
  await go(page, 'shed/claims')
  await page.getByRole('row', { name: /shattered 15 2/ }).waitFor()
})

it('a lot that two tablets packed needs a look, says by whom and for whom, and is settled', async () => {
  const page = await reopened('shed')
  const look = page.locator('.looks .card', { hasText: coral })
  await look.getByText('20 stems more of coral').waitFor()
  await look.getByText('by Joaquín', { exact: false }).waitFor()
  const tilda = look.locator('.settle-row', { hasText: 'by Tilda' })
  await tilda.getByRole('button', { name: 'Put right' }).tap()
  await look.getByLabel('Bunches').fill('3')
  await look.getByLabel(/^Stems of coral/).fill('30')
  await look.getByRole('button', { name: 'Save' }).tap()
  await expect.poll(() => look.count()).toBe(0)
})

it('every page can be used by everybody, in both themes', async () => {
  const page = await reopened('shed/cooler')
  await page.locator('.cooler .rows button').first().tap()
  const found: string[] = []
  for (const place of ['shed/cooler', `shed/lot/${encodeURIComponent(lotCell(lot('elder', 2, 'ember', 'first', 50)))}`, 'shed/claims', 'shed/claims/l2']) {
    await go(page, place)
    await page.locator('.cooler h2').first().waitFor()
    found.push(...(await violationsInBothThemes(page)).map((one) => `${place}: ${one}`))
  }
  expect(found).toEqual([])
})

let kept: Page | undefined

/** The page of one more phone, opened while the shed is there and then out of its reach. */
async function reopened(place: string): Promise<Page> {
  if (!kept) {
    await farm.shed.start()
    kept = await phone()
    await farm.shed.kill()
  }
  await go(kept, place)
  return kept
}
