// Beds, stocks and trays made in the app with no signal, by the owner of a farm that began empty.

import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { violations } from './accessible'
import { invite } from './joining'
import { laptopSize, Phones } from './phone'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField } from './walk'

let shed: Shed
let page: Page
let context: BrowserContext
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('serve')
  ;({ page, context } = await phones.add())
  await page.goto(`${shed.url}/#join/${shed.firstCode}`)
  await button('Join').click()
  await field('Your name').fill('Ana')
  await field('Name of the farm').fill('Hill farm')
  await button('Begin').click()
  await page.getByRole('heading', { name: 'Your first bed' }).waitFor()
  await readyForField(page)
  await codesCome()
  await context.setOffline(true)
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const field = (name: string) => page.getByRole('textbox', { name, exact: true })
const heading = (name: string) => page.getByRole('heading', { name, exact: true })

/** Tag codes are leased in the moments after the farm opened; only planting says how many there are. */
async function codesCome(): Promise<void> {
  await go(page, 'beds/tray')
  await button('Yarrow').click()
  await field('Number of plants').fill('1000')
  await button('Plant 1,000').and(page.locator(':enabled')).waitFor()
}

async function newTray(bed = ''): Promise<void> {
  await go(page, 'beds')
  await page.getByRole('heading', { name: 'Beds', exact: true }).waitFor()
  await go(page, bed === '' ? 'beds/tray' : `beds/tray/${bed}`)
  await page.locator('form.tray').waitFor()
  await button('Tall pink').click() // divisions, which are not proposed: they come in no tray
}

/** Ids of beds as links carry them. */
async function bedID(name: string): Promise<string> {
  await go(page, 'beds')
  const link = page.getByRole('link', { name: new RegExp(`^${name}`) })
  return decodeURIComponent((await link.getAttribute('href'))?.split('/').at(-1) ?? '')
}

async function plant(n: string): Promise<void> {
  await button(`Plant ${n}`).click()
  await heading('Planted').waitFor()
}

describe('a bed', () => {
  it('is made with its measures, drawn to scale as they are typed, and changed', async () => {
    await go(page, 'beds/new')
    await field('Name of the bed').fill('Gate')
    await page.getByText('Not to scale').waitFor()
    await field('Length, m').fill('30')
    await field('Width, m').fill('1,2')
    await page.getByText('To scale: 30 m × 1.2 m').waitFor()
    await field('Lines').fill('0.5')
    await page.getByRole('alert').filter({ hasText: 'A bed has 1 to 50 lines' }).waitFor()
    await field('Lines').fill('3')
    await button('Save the bed').click()
    await page.getByText('30 m × 1.2 m · 3 lines').waitFor()
    await page.getByRole('link', { name: 'Change the bed' }).click()
    await field('Lines').fill('4')
    await button('Save the bed').click()
    await page.getByText('30 m × 1.2 m · 4 lines').waitFor()
  })

  it('that is empty is taken away, and brought back also after a reload', async () => {
    await go(page, 'beds/new')
    await field('Name of the bed').fill('Slip')
    await button('Save the bed').click()
    await page.getByRole('link', { name: 'Change the bed' }).click()
    await button('Take this bed away').click()
    await page.getByText('Slip was taken away.').filter({ visible: true }).first().waitFor()
    expect(await page.getByRole('link', { name: /^Slip/ }).count()).toBe(0)
    await page.reload()
    await button('Undo').click()
    await page.getByRole('link', { name: /^Slip/ }).waitFor()
  })
})

describe('a stock', () => {
  it('is made, changed and marked as protected later, with what that means', async () => {
    await go(page, 'beds/stocks')
    await page.getByRole('link', { name: 'New stock' }).click()
    await field('Name of the stock: strain or cultivar').fill('Tall pink')
    await field('Species').fill('Achillea millefolium')
    await button('from division').click()
    await button('Save the stock').click()
    await page.getByRole('link', { name: /^Tall pink/ }).click()
    await page.getByText('Ask its owner for one.').waitFor()
    await page.getByRole('checkbox', { name: 'Protected against propagation' }).check()
    await page.getByText('Divisions of a protected stock need a licence').waitFor()
    await button('Save the stock').click()
    await page.getByText('Protected: may not be propagated without a licence.').waitFor()
  })

  it('is taken for the farm’s own species, which is one tap to have again', async () => {
    await page.getByRole('link', { name: 'New stock' }).click()
    expect(await field('Species').inputValue()).toBe('Achillea millefolium')
    await field('Species').fill('Another')
    await button('Achillea millefolium').click()
    expect(await field('Species').inputValue()).toBe('Achillea millefolium')
  })
})

describe('a tray', () => {
  it('fills places in one step with a new stock, and is taken back whole with it', async () => {
    const gate = await bedID('Gate')
    await newTray(gate)
    await button('A new stock').click()
    await field('Name of the stock: strain or cultivar').fill('Slip of the pen')
    await button('128').click()
    await page.getByText('128 plants in lines 1 to 4, numbers 1 to 32.').waitFor()
    await page.getByText('94 cm apart').waitFor()
    await plant('128')
    await page.reload()
    await page.getByText('128 plants of Slip of the pen stand in Gate.').waitFor()
    await button('Undo').click()
    await page.getByRole('link', { name: /^Gate 0 plants/ }).waitFor()
    await go(page, 'beds/stocks')
    await page.getByRole('link', { name: /^Tall pink/ }).waitFor()
    expect(await page.getByRole('link', { name: /^Slip of the pen/ }).count()).toBe(0)
  })

  it('of years ago is planted with its own first season, which may be another than the rule’s', async () => {
    await newTray(await bedID('Gate'))
    await page.getByLabel('Day, as well as you know it').fill('2022-04-20')
    await page.getByText('Its first season is 2022. What is set before July').waitFor()
    await page.getByLabel('Day, as well as you know it').fill('2022-09-20')
    await page.getByText('Its first season is 2023. What is set from July on').waitFor()
    await button('Another first season').click()
    await button('2022').click()
    await page.getByText('Its first season is 2022. That is as you said').waitFor()
    await page.getByText('A wrong one puts these plants’ stems to the wrong age.').waitFor()
    await field('Number of plants').fill('10')
    await field('To line').fill('2')
    await plant('10')
    await page.getByText('The first season is 2022.').waitFor()
    await page.getByRole('link', { name: 'See the bed' }).click()
    await page.getByText('planted 20 Sept 2022').waitFor()
  })

  it('passes over what stands there, and says so', async () => {
    await newTray(await bedID('Gate'))
    await field('Number of plants').fill('4')
    await field('From line').fill('2')
    await field('To line').fill('2')
    await field('From number').fill('4')
    await page.getByText('2 places are taken already and are passed over.').waitFor()
    await page.getByText('4 plants in line 2, numbers 6 to 9.').waitFor()
    await field('From number').fill('7')
    await page.getByText('4 plants in line 2, numbers 7 to 10.').waitFor()
    await plant('4')
  })

  it('fills the gaps only, where that is wanted', async () => {
    await newTray(await bedID('Gate'))
    await page.getByRole('checkbox', { name: /^Fill the gaps only/ }).check()
    await page.getByText('1 plant in line 2, number 6.').waitFor()
    await field('Number of plants').fill('2')
    await page.getByText('There is only 1 gap in these lines.').waitFor()
    expect(await button('Plant').isDisabled()).toBe(true)
    await field('Number of plants').fill('1')
    await plant('1')
  })

  it('keeps its bed from being taken away, and its lines', async () => {
    await go(page, `beds/change/${await bedID('Gate')}`)
    await page.getByText('Plants stand in this bed, so it cannot be taken away.').waitFor()
    await field('Lines').fill('1')
    await page.getByRole('alert').filter({ hasText: 'Plants stand in line 2' }).waitFor()
  })

  it('is not taken back once something was counted of it', async () => {
    await newTray()
    await field('Name of the bed').fill('Short')
    await button(/^Spring \d{4}$/).click()
    await field('Number of plants').fill('6')
    await plant('6')
    await button('Undo').waitFor()
    await button('Count all 6').click()
    await button('3 stems').click()
    await expect.poll(() => page.locator('.plant-card .code').innerText()).not.toBe('')
    await go(page, 'beds/planted')
    await page.getByText('6 plants are counted.').waitFor()
    await expect.poll(() => button('Undo').count()).toBe(0)
  })

  it('that is not in its first season yet is counted from then', async () => {
    await newTray(await bedID('Short'))
    const next = Number(new Date().toISOString().slice(0, 4)) + 1
    if (await page.getByText(`Its first season is ${next}.`).count() === 0) {
      await button('Another first season').click()
      await button(String(next)).click()
    }
    await field('Number of plants').fill('30')
    await plant('30')
    await page.getByText(`These plants’ first season is ${next}.`).waitFor()
    await button('Count 24, drawn at random').click()
    await page.getByText('24 plants are counted from').first().waitFor()
    await button('Undo').waitFor()
  })

  it('of more plants than an operation holds is refused, and so is one without enough codes', async () => {
    await newTray()
    await field('Number of plants').fill('5001')
    await page.getByText('No more than 5,000 at once. Plant them in parts.').waitFor()
    await field('Number of plants').fill('5000')
    await page.getByText('Bring it into the shed’s reach once').waitFor()
    expect(await button('Plant 5,000').isDisabled()).toBe(true)
  })

  it('of 5,000 plants is one operation once the shed has given codes, and reaches it', async () => {
    await context.setOffline(false)
    await newTray()
    await field('Name of the bed').fill('Field')
    await field('Number of plants').fill('5000')
    const begun = Date.now()
    await button('Plant 5,000').and(page.locator(':enabled')).waitFor({ timeout: 60_000 })
    const had = Date.now()
    await button('Plant 5,000').click()
    await heading('Planted').waitFor({ timeout: 60_000 })
    console.log(`5,000 plants: codes in ${had - begun} ms, planted in ${Date.now() - had} ms`)
    await go(page, 'row')
    await everythingSent(page)
  })
})

describe('what was planted', () => {
  it('is said on an accessible page', async () => {
    await go(page, 'beds/planted')
    await heading('Planted').waitFor()
    expect(await violations(page)).toEqual([])
  })

  it('is the same on another device of an owner, and nothing was refused', async () => {
    const cookie = (await context.cookies()).map(({ name, value }) => `${name}=${value}`).join('; ')
    const code = await invite(shed, cookie, crypto.randomUUID(), 'owner')
    const { page: other } = await phones.add({ size: laptopSize })
    await other.goto(`${shed.url}/#join/${code.replace('-', '')}`)
    await other.getByRole('button', { name: 'Join', exact: true }).click()
    await other.getByRole('button', { name: 'Start' }).click()
    await other.getByRole('textbox', { name: 'Your name' }).fill('Ilse') // an invitation made in the app brings the name along
    await other.getByRole('button', { name: 'Begin' }).click()
    await other.getByRole('navigation').first().waitFor()
    await go(other, 'beds')
    for (const line of [/^Gate 15 plants/, /^Short 36 plants/, /^Field 5,000 plants/, /^Slip 0 plants/]) await other.getByRole('link', { name: line }).waitFor()
    await go(page, 'shed')
    await page.getByRole('heading', { name: 'Bench total' }).waitFor()
    expect(await page.getByText('refused').count()).toBe(0)
  })

  it('is nobody’s to change but an owner’s', async () => {
    const cookie = (await context.cookies()).map(({ name, value }) => `${name}=${value}`).join('; ')
    const code = await invite(shed, cookie, crypto.randomUUID(), 'crew', 'Ben')
    const { page: crew } = await phones.add()
    await crew.goto(`${shed.url}/#join/${code.replace('-', '')}`)
    await crew.getByRole('button', { name: 'Join', exact: true }).click()
    await crew.getByRole('button', { name: 'Start' }).click()
    await crew.getByRole('navigation').first().waitFor()
    await go(crew, 'beds')
    await crew.getByRole('link', { name: /^Gate/ }).waitFor()
    expect(await crew.getByRole('link', { name: /^(Plant|New bed)/ }).count()).toBe(0)
    for (const page of ['beds/tray', 'beds/new', 'beds/planted', 'beds/stocks/new']) {
      await go(crew, page)
      await crew.getByText('An owner of the farm makes beds and stocks').waitFor()
      await go(crew, 'beds')
    }
  })
})
