// Stand walk and colour walk with no signal, and these and everything else that people tell of a plant
// under axe-core.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Reached, violationsAlong } from './accessible'
import { Phones } from './phone'
import { another, offline, openBed, openPlant, openRated } from './plants'
import { openShed, type Shed } from './shed'
import { calledOut, everythingSent, go, openWalk, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

const left = async (page: Page) => Number((await page.locator('.strip .left').innerText()).replace(/\D/g, ''))

describe('the stand walk', () => {
  it('goes on through a reload, takes back, jumps, and ends with what to do next', async () => {
    const { page, context } = await offline(phones, shed)
    await openRated(page, 'Well', 'Stand walk')
    const all = await left(page)
    const [first, tap] = [await calledOut(page), (name: RegExp) => page.locator('.stands').getByRole('button', { name }).tap()]
    await tap(/^Alive/)
    await expect.poll(() => calledOut(page)).not.toBe(first)
    const second = await calledOut(page)
    await tap(/^Gone/)
    await expect.poll(() => calledOut(page)).not.toBe(second)
    const third = await calledOut(page)
    expect(await left(page)).toBe(all - 2)

    await page.reload()
    await expect.poll(() => calledOut(page)).toBe(third)
    await page.getByRole('button', { name: `Take back “Gone” from ${second}` }).tap()
    await expect.poll(() => calledOut(page)).toBe(second)
    expect(await left(page)).toBe(all - 1)
    await page.keyboard.press('2')
    await expect.poll(() => calledOut(page)).toBe(third)
    await page.keyboard.press('3')
    await expect.poll(() => calledOut(page)).not.toBe(third)
    const skipped = await calledOut(page)
    await page.getByRole('button', { name: 'Look later' }).tap()
    await expect.poll(() => calledOut(page)).not.toBe(skipped)

    for (let n = all - 4; n > 0; n--) {
      const at = await calledOut(page)
      await tap(/^Alive/)
      if (n > 1) await expect.poll(() => calledOut(page)).not.toBe(at)
    }
    await page.getByText(`${all - 3} alive, 1 weak, 1 gone, of ${all - 1} looked at.`).waitFor()
    await page.getByText('1 place is free').waitFor()
    await page.getByRole('link', { name: second, exact: true }).waitFor()
    await page.getByRole('button', { name: `Go to ${skipped}` }).tap()
    expect(await calledOut(page)).toBe(skipped)
    await page.locator('.strip .left').tap()
    await page.getByRole('button', { name: new RegExp(`^${third}.*Gone`) }).tap()
    await expect.poll(() => calledOut(page)).toBe(third)

    await context.setOffline(false)
    await everythingSent(page)
    const other = await another(phones, shed)
    await openBed(other, 'Well')
    expect(await other.getByRole('link', { name: new RegExp(`^${third}`) }).count()).toBe(0)
    await other.getByRole('link', { name: new RegExp(`^${second}`) }).click()
    await other.getByText('Stand in spring: Weak').waitFor()
  })
})

describe('the colour walk', () => {
  it('shows the class before, offers the flag where it differs, and takes both back', async () => {
    const { page } = await offline(phones, shed)
    await openRated(page, 'Long', 'Colour walk')
    const classes = await page.locator('.class').allInnerTexts()
    const code = await calledOut(page)
    const before = (await page.locator('.before').innerText()).replace(/^.*: /, '')
    expect(classes).toContain(before)
    const other = classes.find((name) => name !== before) ?? ''
    await page.getByRole('button', { name: other, exact: true }).tap()
    await expect.poll(() => calledOut(page)).not.toBe(code)
    expect(await page.locator('.class').allInnerTexts()).toEqual(classes) // none moved under the finger
    await page.getByText(`${code} was ${before}, now ${other}.`).waitFor()
    await page.getByRole('button', { name: 'Flag: colour off' }).tap()
    await page.getByRole('button', { name: `Clear the flag of ${code} again` }).tap()
    await page.getByRole('button', { name: `Take back “${other}” from ${code}` }).tap()
    await expect.poll(() => calledOut(page)).toBe(code)
    expect(await page.locator('.before').innerText()).toContain(before)

    await page.getByRole('button', { name: before, exact: true }).tap()
    await expect.poll(() => calledOut(page)).not.toBe(code)
    expect(await page.locator('.drift').count()).toBe(0)
    const second = await calledOut(page)
    const n = await left(page)
    await page.getByRole('button', { name: 'Not in bloom yet' }).tap()
    await expect.poll(() => calledOut(page)).not.toBe(second)
    expect(await left(page)).toBe(n)
    await page.reload()
    await expect.poll(() => left(page)).toBe(n)
  })

  it('lets an owner make a class in place, and no crew', async () => {
    const { page } = await offline(phones, shed)
    await openRated(page, 'Pump', 'Colour walk')
    await page.getByText('New colour class').tap()
    const [name, make] = [page.getByRole('textbox', { name: 'What you call it' }), page.getByRole('button', { name: 'Make the class' })]
    await name.fill('oyster')
    await page.getByRole('button', { name: 'apricot' }).tap()
    await make.tap()
    await page.getByText('There is a class of that name.').waitFor()
    await name.fill('lantern')
    await make.tap()
    const code = await calledOut(page)
    await page.getByRole('button', { name: 'lantern', exact: true }).tap()
    await expect.poll(() => calledOut(page)).not.toBe(code)

    const owner = await another(phones, shed)
    const answer = await owner.request.post(`${shed.url}/api/invitations`, { data: { person: crypto.randomUUID(), name: 'Ilse', role: 'crew' } })
    const { code: invitation } = (await answer.json()) as { code: string }
    const crew = (await phones.add()).page
    await crew.goto(`${shed.url}/#join/${invitation.replace('-', '')}`)
    await crew.getByRole('button', { name: 'Join', exact: true }).click()
    await crew.getByRole('button', { name: 'Start' }).click()
    await crew.getByRole('navigation').first().waitFor()
    await openRated(crew, 'Pump', 'Colour walk')
    expect(await crew.getByText('New colour class').count()).toBe(0)
    const at = await calledOut(crew)
    await crew.locator('.class').first().click()
    await expect.poll(() => calledOut(crew)).not.toBe(at)
    await everythingSent(crew)
  })
})

/** Pages by how one gets there, one after the other. */
const pages: readonly Reached[] = [
  ['choosing a bed', (page) => go(page, 'row')],
  ['the walks of a bed', (page) => page.getByRole('link', { name: 'Walks through Long' }).click()],
  ['the stand walk', async (page) => {
    await page.getByRole('link', { name: /^Stand walk/ }).click()
    await page.locator('.stand').nth(1).click()
  }],
  ['its list', (page) => page.locator('.strip .left').click()],
  ['the colour walk, with a new class', async (page) => {
    await page.getByRole('link', { name: 'Other walks' }).first().click()
    await page.getByRole('link', { name: /^Colour walk/ }).click()
    await page.locator('.class').first().click()
    await page.getByText('New colour class').click()
  }],
  ['a walk with its flags open', async (page) => {
    await openWalk(page)
    await page.getByRole('button', { name: /^Flags of/ }).click()
    await page.locator('.flag-panel').waitFor()
  }],
  ['a plant, with a note that is too long', async (page) => {
    await openPlant(page, 'Gate', 3)
    const divide = page.locator('.flag-chooser').getByRole('button', { name: /^Divide/ })
    if ((await divide.getAttribute('aria-pressed')) === 'false') await divide.click()
    await page.getByRole('textbox', { name: 'New note' }).fill('x'.repeat(501))
  }],
  ['flags', async (page) => {
    await go(page, 'beds/flags')
    await page.locator('.flagged').first().waitFor()
  }],
]

it('axe-core finds nothing on any of these pages, light and dark, on a phone and on a laptop', async () => {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page)
  expect(await violationsAlong(page, pages)).toEqual([])
}, 400_000)
