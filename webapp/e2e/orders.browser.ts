// Selling set up and orders taken on a phone with no signal: a channel, a rule, a price, a buyer, a standing order of which
// one delivery is changed and one left out; and what becomes of what is due when its buyer is deleted.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays, dayOf } from '../src/crop/day'
import { colourFacts, farmFacts, personFacts } from '../src/crop/facts'
import { violationsInBothThemes } from './accessible'
import { colours } from './bed_farm'
import { invite, joinBy, joinMany, whoIs } from './joining'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField } from './walk'
import { admit, write } from './writer'

let shed: Shed
let [owner, crew] = ['', '']
const phones = new Phones()
const tomorrow = addDays(dayOf(new Date()), 1)

beforeAll(async () => {
  shed = await openShed('serve')
  const [writer, other] = await joinMany(shed, 2)
  owner = other!
  const { farm, person } = await whoIs(shed, owner)
  crew = await joinBy(shed, await invite(shed, owner, crypto.randomUUID(), 'crew', 'Tilda'))
  await write(shed, farm, writer!, [
    ...personFacts({ id: person, name: 'Maren' }), ...farmFacts({ id: farm, name: 'Made-up farm', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...colours.flatMap(colourFacts),
  ])
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

async function phoneOf(cookie: string): Promise<Page> {
  const { page, context } = await phones.add()
  await admit(context, shed, cookie)
  await page.goto(shed.url)
  await readyForField(page)
  return page
}

const tap = (page: Page, name: string | RegExp, role: 'button' | 'link' = 'button') => page.getByRole(role, { name, exact: typeof name === 'string' }).first().click()
const sees = (page: Page, text: string | RegExp) => page.getByText(text).filter({ visible: true }).first().waitFor()
const weekday = (day: string) => new Intl.DateTimeFormat('en-GB', { weekday: 'short', timeZone: 'UTC' }).format(new Date(day))

async function saved(page: Page): Promise<void> {
  await tap(page, 'Save')
  await page.locator('.last-done').waitFor()
}

describe('selling, with no signal', () => {
  let page: Page

  it('is set up: what is wrong is said, and nothing typed is lost', async () => {
    page = await phoneOf(owner)
    await shed.kill()
    await page.reload()
    await go(page, 'shed/orders')
    await tap(page, 'Channels', 'link')
    await tap(page, 'New channel', 'link')
    await page.getByLabel('first').fill('0.50')
    await tap(page, 'Save')
    await page.getByRole('alert').getByText('A channel needs a name.').waitFor()
    expect(await page.getByLabel('first').inputValue()).toBe('0.50')
    await page.getByLabel('What you call it').fill('Florists')
    await saved(page)
    await page.getByRole('link', { name: /^Florists/ }).waitFor()

    await go(page, 'shed/orders/bunches/new')
    await page.getByLabel('What you call it').fill('Ten first')
    await page.getByRole('textbox', { name: 'stems a bunch' }).fill('0')
    await tap(page, 'Save')
    await page.getByRole('alert').getByText('A bunch has 1 to 500 stems.').waitFor()
    await page.getByRole('textbox', { name: 'stems a bunch' }).fill('10')
    await saved(page)

    await go(page, 'shed/orders/prices')
    await tap(page, 'New price', 'link')
    await page.getByLabel('For a bunch').fill('0')
    await page.getByLabel(/^Holds from/).fill('')
    await tap(page, 'Save')
    await page.getByRole('alert').getByText('A price of zero would give bunches away.').waitFor()
    await page.getByLabel('For a bunch').fill('4.80')
    await sees(page, '4.80 for a bunch of 10 is below the floor of 0.50 a stem for first, which makes 5.00.')
    await page.getByLabel('For a bunch').fill('5.20')
    await saved(page)

    await go(page, 'shed/orders/buyers/new')
    await tap(page, 'Save')
    await page.getByRole('alert').getByText('A buyer needs a name.').waitFor()
    await page.getByLabel('Name').fill('Studio Nord')
    await saved(page)
    await page.getByRole('heading', { name: 'Studio Nord' }).waitFor()
  })

  it('a standing order comes by itself, priced by the list', async () => {
    await tap(page, 'New standing order', 'link')
    await tap(page, weekday(tomorrow))
    await tap(page, 'Add a line')
    for (let n = 0; n < 3; n++) await tap(page, 'More: bunches')
    for (const name of ['ember', 'garnet']) await tap(page, name)
    expect(await violationsInBothThemes(page)).toEqual([])
    await tap(page, 'Done')
    await sees(page, '4 bunches of 10, first, ember or garnet')
    await saved(page)
    await page.getByRole('heading', { name: 'Next deliveries' }).waitFor()
    await go(page, 'shed/orders')
    await sees(page, '4 bunches of 10, first, ember or garnet')
    await sees(page, '20.80')
    await sees(page, /8 bunches, 80 stems, are promised to 1 buyer/)
  })

  it('one delivery of it is changed and the next left out, and both are so after a reload', async () => {
    await page.getByRole('link', { name: /Studio Nord/ }).first().click()
    await tap(page, 'Change the order', 'link')
    await tap(page, 'More: bunches')
    await saved(page)
    await sees(page, 'Changed for this day alone.')
    expect(await violationsInBothThemes(page)).toEqual([])
    await tap(page, 'See the standing order', 'link')
    await page.getByRole('button', { name: /^Leave out / }).first().click()
    await sees(page, 'left out')
    expect(await violationsInBothThemes(page)).toEqual([])

    await page.reload()
    await sees(page, 'left out')
    await go(page, 'shed/orders')
    await sees(page, '5 bunches of 10, first, ember or garnet')
    await sees(page, '26.00')
    await sees(page, /5 bunches, 50 stems, are promised to 1 buyer/)
    expect(await page.locator('.delivery').count()).toBe(1)
  })

  it('an order is taken as the last one was, and taken back', async () => {
    await tap(page, 'New order', 'link')
    await tap(page, /^Studio Nord/)
    await tap(page, /^The same as for /)
    await page.getByLabel('Another day').fill('2020-02-03')
    await sees(page, /is over. The order is kept as one of that day/)
    await page.getByLabel('Another day').fill(tomorrow)
    await tap(page, 'Take the order')
    await page.locator('.last-done').waitFor()
    await tap(page, 'Withdraw the order')
    await sees(page, /Nothing goes to Studio Nord any more: /)
    await tap(page, 'Undo')
    await sees(page, /10 bunches, 100 stems/)
  })

  it('a buyer with lines still due is deleted with a word, and nothing is lost', async () => {
    await go(page, 'shed/orders/buyers')
    await tap(page, /^Studio Nord/, 'link')
    await tap(page, 'Delete the buyer')
    await sees(page, 'These lines of Studio Nord are still due:')
    expect(await violationsInBothThemes(page)).toEqual([])
    await sees(page, '5 bunches of 10, first, ember or garnet')
    await tap(page, 'Delete the buyer, keep the lines to be looked at')
    await sees(page, 'Studio Nord is deleted.')
    // It is the same look in the shed and among the orders, and either way of settling it can be taken back.
    await go(page, 'shed')
    await sees(page, 'Studio Nord was deleted, and these lines are still due.')
    await tap(page, 'Bring the buyer back')
    await page.getByText('these lines are still due').waitFor({ state: 'detached' })
    await tap(page, 'Undo')
    await go(page, 'shed/orders')
    await sees(page, 'Studio Nord was deleted, and these lines are still due.')
    await tap(page, 'Withdraw the lines')
    await sees(page, 'What was due to Studio Nord is withdrawn.')
    expect(await page.locator('.delivery').count()).toBe(0)
    await tap(page, 'Undo')
    await sees(page, '5 bunches of 10, first, ember or garnet')
    expect(await page.getByText('these lines are still due').count()).toBe(0)
  })

  it('reaches the shed, where crew reads what goes to whom and no amount', async () => {
    await shed.start()
    await go(page, 'shed')
    await everythingSent(page)
    const other = await phoneOf(crew)
    await go(other, 'shed/orders')
    await sees(other, '5 bunches of 10, first, ember or garnet')
    expect(await other.getByText(/26\.00|no price/).count()).toBe(0)
    expect(await other.getByRole('link', { name: 'New order' }).count()).toBe(0)
    await go(other, 'shed/orders/prices')
    await sees(other, 'Only an owner writes orders, buyers and prices.')
  })

  it.each([
    ['orders', 'Orders'], ['orders/new', 'New order'], ['orders/standing', 'Standing orders'], ['orders/standing/new', 'New standing order'],
    ['orders/buyers', 'Buyers'], ['orders/buyers/new', 'New buyer'], ['orders/channels', 'Channels'], ['orders/channels/new', 'New channel'],
    ['orders/bunches', 'Bunches'], ['orders/bunches/new', 'New rule'], ['orders/prices', 'Prices'], ['orders/terms', 'Terms of selling'],
  ])('everybody can use %s', async (where, heading) => {
    await go(page, `shed/${where}`)
    await page.getByRole('heading', { name: heading, exact: true, level: 1 }).waitFor()
    expect(await violationsInBothThemes(page)).toEqual([])
  })
})
