// Plants divided, moved and taken out with no signal, seedlings that nobody planted, protected stock, and
// two phones that moved one plant without seeing each other.

import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { laptopSize, Phones } from './phone'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

const bed = 'Elder'

async function ownersPhone(size?: typeof laptopSize): Promise<{ page: Page; context: BrowserContext }> {
  const { page, context } = await phones.add({ touch: size === undefined, ...(size && { size }) })
  await page.goto(shed.url)
  await sayWho(page)
  await readyForField(page)
  return { page, context }
}

/** The id of the plant that comes so far in a bed's list, and its code. */
async function plantOf(page: Page, name: string, at: number): Promise<{ id: string; code: string }> {
  await go(page, 'beds')
  await page.locator('.bed-list').getByRole('link', { name: new RegExp(`^${name}`) }).click()
  const link = page.locator('ol.plants a.line').nth(at)
  const id = decodeURIComponent((await link.getAttribute('href'))?.split('/').at(-1) ?? '')
  return { id, code: await link.locator('b').innerText() }
}

/** Opens what is done to a plant from its page, as a person does. */
async function act(page: Page, id: string, name: string): Promise<void> {
  await go(page, `beds/plant/${encodeURIComponent(id)}`)
  await page.locator('.plant-actions').getByRole('link', { name, exact: true }).click()
}

const freePlace = (page: Page, at = 0) => page.getByRole('button', { name: /^line \d+, \d+: free/ }).nth(at)
const note = (page: Page, text: string | RegExp) => page.locator('.note').getByText(text)

it('divides a plant with no signal, keeps it through a reload, and takes it back', async () => {
  const { page, context } = await ownersPhone()
  const parent = await plantOf(page, bed, 2)
  await context.setOffline(true)
  await act(page, parent.id, 'Divide')
  await page.getByRole('button', { name: /^Less/ }).tap()
  await page.getByText('Selling divisions may need a nursery licence').waitFor()
  const divide = page.getByRole('button', { name: 'Divide into 2' })
  expect(await divide.isDisabled()).toBe(true)
  await freePlace(page).tap()
  await page.getByRole('button', { name: 'Next free place from here' }).tap()
  await divide.tap()
  await note(page, `${parent.code} is divided into 2.`).waitFor()
  const codes = await page.locator('.divided .rows b').allInnerTexts()
  expect(new Set(codes).size).toBe(2)

  await page.getByRole('button', { name: 'Undo' }).tap()
  await divide.waitFor()
  await go(page, `beds/plant/${parent.id}`)
  expect(await page.getByText('gone since').count()).toBe(0)

  await act(page, parent.id, 'Divide')
  await page.getByRole('button', { name: /^Less/ }).tap()
  await page.getByRole('checkbox', { name: /^Somewhere in this bed/ }).check()
  await page.getByRole('button', { name: 'Stays in its place' }).tap()
  await divide.tap()
  await note(page, `${parent.code} is divided into 2.`).waitFor()
  const child = page.locator('.divided .rows a').first()
  const [code, address] = [await child.locator('b').innerText(), await child.getAttribute('href')]
  await page.reload()
  await go(page, address?.slice(2) ?? '')
  await page.getByRole('heading', { name: code }).waitFor()
  await page.getByRole('link', { name: parent.code }).waitFor()

  await page.getByRole('button', { name: 'Entered by mistake: withdraw' }).tap()
  await note(page, `${code} was entered by mistake and is withdrawn.`).waitFor()
  await page.getByRole('button', { name: 'Undo' }).tap()
  await page.getByRole('button', { name: 'Entered by mistake: withdraw' }).waitFor()
  await context.setOffline(false)
  await everythingSentFrom(page)
})

it('stops where the stock is protected, and says why', async () => {
  const { page } = await ownersPhone()
  const { id, code } = await protectedPlant(page)
  await act(page, id, 'Divide')
  await page.getByRole('alert').getByText(`${code} may not be divided: “Cinder Dome`).waitFor()
  await page.getByText('Ask the right holder for a licence.').waitFor()
  expect(await page.locator('.btn.main').count()).toBe(0)
  await act(page, id, 'A seedling came up here')
  await page.getByText('Seedlings of a protected kind may be protected too').waitFor()
})

it('moves a plant, takes one out, and enters a seedling at its foot and one in a gap, with no signal', async () => {
  const { page, context } = await ownersPhone()
  const moved = await plantOf(page, bed, 5)
  const out = await plantOf(page, bed, 7)
  await context.setOffline(true)

  await act(page, moved.id, 'Move')
  const to = (await freePlace(page).getAttribute('aria-label'))?.replace(/: free.*/, '') ?? ''
  await freePlace(page).tap()
  await page.getByRole('button', { name: 'Move it here' }).tap()
  await note(page, `${moved.code} is moved: ${bed}, ${to}`).waitFor()
  await go(page, `beds/plant/${moved.id}`)
  await page.locator('.plant-facts').getByText(to).waitFor()

  await go(page, `beds/plant/${out.id}`)
  await page.getByRole('button', { name: 'Take out' }).tap()
  await page.getByRole('button', { name: 'It is out' }).tap()
  await note(page, `${out.code} is taken out: today.`).waitFor()
  await page.getByRole('button', { name: 'Undo' }).tap()
  await page.getByRole('button', { name: 'Take out' }).waitFor()

  await act(page, moved.id, 'A seedling came up here')
  await page.getByRole('button', { name: 'Enter the seedling' }).tap()
  await page.getByRole('link', { name: /^To / }).tap()
  await page.getByText(`A seedling that came up beside ${moved.code}. Nobody knows its parents.`).waitFor()

  await act(page, moved.id, 'Move')
  await page.getByRole('button', { name: /a gap$/ }).first().tap()
  await page.getByRole('link', { name: 'A seedling came up in this gap' }).tap()
  await page.getByRole('button', { name: 'In a gap of this bed', pressed: true }).waitFor()
  await page.getByRole('button', { name: 'Enter the seedling' }).tap()
  await page.getByRole('link', { name: /^To / }).tap()
  await page.getByText('A self-sown seedling. Nobody knows its parents.').waitFor()
  expect(await page.getByText('Divided from').count()).toBe(0)
})

it('shows a plant that two phones moved without seeing each other, until an owner says where it stands', async () => {
  const [a, b] = [await ownersPhone(), await ownersPhone(laptopSize)]
  const { id, code } = await plantOf(a.page, bed, 9)
  for (const { context } of [a, b]) await context.setOffline(true)
  const moveTo = async (page: Page, at: number) => {
    await act(page, id, 'Move')
    await freePlace(page, at).click()
    await page.getByRole('button', { name: 'Move it here' }).click()
    await note(page, `${code} is moved`).waitFor()
  }
  await moveTo(a.page, 0)
  await moveTo(b.page, 1)
  expect(await looksOn(b.page)).toBe(0)
  for (const { page, context } of [a, b]) {
    await context.setOffline(false)
    await everythingSentFrom(page)
  }
  for (const { page } of [a, b]) await expect.poll(() => looksOn(page), { timeout: 30_000 }).toBe(1)
  await go(b.page, 'shed')
  await b.page.locator('.looks').getByText(`${code} was moved to several places`).waitFor()
  await b.page.locator('.looks').getByRole('button', { name: new RegExp(`^${bed}, line`) }).first().click()
  for (const { page } of [a, b]) await expect.poll(() => looksOn(page), { timeout: 30_000 }).toBe(0)
})

/** How many the bar says. */
async function looksOn(page: Page): Promise<number> {
  const badge = page.locator('.bar .badge')
  return (await badge.count()) === 0 ? 0 : Number(await badge.innerText())
}

async function everythingSentFrom(page: Page): Promise<void> {
  await go(page, 'shed')
  await everythingSent(page)
}

/** A plant of Cinder Dome, which the made-up farm marks as protected: the third line of Well. */
async function protectedPlant(page: Page): Promise<{ id: string; code: string }> {
  await plantOf(page, 'Well', 0)
  const link = page.locator('ol.plants a.line', { hasText: 'line 3,' }).first()
  const id = decodeURIComponent((await link.getAttribute('href'))?.split('/').at(-1) ?? '')
  return { id, code: await link.locator('b').innerText() }
}
