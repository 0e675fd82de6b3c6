// What people see at a plant, told with no signal: flags, notes and photos; and the plant's own page. What
// was told ends at another phone.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { takeShot } from './camera'
import { Phones } from './phone'
import { another, offline, openBed, openPlant } from './plants'
import { openShed, type Shed } from './shed'
import { calledOut, countHandful, everythingSent, go, openWalk } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

const flag = (page: Page, name: string) => page.locator('.flag-chooser').getByRole('button', { name: new RegExp(`^${name}`) })
const pressed = (page: Page, name: string) => flag(page, name).getAttribute('aria-pressed')

describe('flags', () => {
  it('are raised in the row over the keys, which stay one tap away, and told to other phones', async () => {
    const { page, context } = await offline(phones, shed)
    await openWalk(page)
    const code = await calledOut(page)
    await page.getByRole('button', { name: `Flags of ${code}: 0 raised` }).tap()
    await flag(page, 'Divide').tap()
    await expect.poll(() => pressed(page, 'Divide')).toBe('true')
    expect(await flag(page, 'Divide').innerText()).toContain('today, Maren')
    await page.getByRole('button', { name: `Flags of ${code}: 1 raised` }).tap()
    expect(await page.locator('.flag-panel').count()).toBe(0)
    expect(await countHandful(page, 4)).toBe(code)
    await page.reload()
    await page.locator('.code').waitFor()
    await context.setOffline(false)
    await everythingSent(page)

    const other = await another(phones, shed)
    await go(other, 'beds/flags')
    await other.getByRole('button', { name: /^Divide \d/ }).click()
    await other.getByRole('link', { name: new RegExp(`^${code}.*today, Maren`) }).waitFor()
  })

  it('are listed in walk order, cleared by one tap and raised again by another', async () => {
    const { page } = await offline(phones, shed)
    const codes: string[] = []
    for (const nth of [7, 2, 5]) {
      codes.push(await openPlant(page, 'Elder', nth))
      await flag(page, 'Lift').tap()
      await expect.poll(() => pressed(page, 'Lift')).toBe('true')
    }
    await openBed(page, 'Elder')
    await page.getByRole('link', { name: /^Flags: \d+ plants?$/ }).click()
    await page.getByRole('button', { name: /^Lift/ }).tap()
    const listed = () => page.locator('.flagged b').allInnerTexts()
    const inWalk = [codes[1], codes[2], codes[0]]
    expect(await listed()).toEqual(inWalk)
    await page.getByText('Bend the knees').waitFor()
    await page.getByRole('button', { name: `Clear the flag of ${codes[1]}` }).tap()
    await page.getByRole('heading', { name: 'Lift: 2' }).waitFor()
    expect(await listed()).toEqual(inWalk)
    await page.getByRole('button', { name: `Undo: raise the flag of ${codes[1]} again` }).tap()
    await page.getByRole('heading', { name: 'Lift: 3' }).waitFor()
    await page.getByRole('button', { name: `Clear the flag of ${codes[1]}` }).tap()
    await page.getByRole('link', { name: new RegExp(`^${codes[1]}`) }).click()
    expect(await pressed(page, 'Lift')).toBe('false')
    await page.getByText('Cleared: 1').tap()
    await page.getByText('raised today, Maren; cleared today, Maren').waitFor()
  })

  it('say of protected stock that dividing it needs a licence', async () => {
    const { page } = await offline(phones, shed)
    await openBed(page, 'Well')
    const last = (await page.locator('.plants a').count()) - 1
    await openPlant(page, 'Well', last)
    await page.getByText('Protected: may not be propagated without a licence.').waitFor()
    await flag(page, 'Divide').tap()
    await expect.poll(() => pressed(page, 'Divide')).toBe('true')
    await go(page, 'beds/flags')
    await page.getByRole('button', { name: /^Divide/ }).tap()
    await page.getByText('It may not be divided or propagated in any other way without a licence.').waitFor()
  })
})

it('a photo is taken in the row beside the flags, and is at the plant', async () => {
  const { page } = await offline(phones, shed)
  await openWalk(page)
  const code = await calledOut(page)
  await page.locator('.act input[capture]').setInputFiles(await takeShot(page, { width: 640, height: 400, seed: 5 }))
  await page.getByText('The photo is stored on this phone.').waitFor({ state: 'attached' })
  expect(await calledOut(page)).toBe(code)
  await openBed(page, 'Elder')
  await page.getByRole('link', { name: new RegExp(`^${code}`) }).click()
  await page.getByRole('button', { name: new RegExp(`^Photo of ${code}`) }).waitFor()
})

it('notes are written, withdrawn and brought back with no signal, and refused where they are too long', async () => {
  const { page, context } = await offline(phones, shed)
  const code = await openPlant(page, 'Pump', 3)
  const box = page.getByRole('textbox', { name: 'New note' })
  const add = page.getByRole('button', { name: 'Add the note' })
  await box.fill('x'.repeat(503))
  await page.getByText('Too long by 3 characters').waitFor()
  expect(await add.isDisabled()).toBe(true)
  await box.fill('Leans since the storm')
  await add.tap()
  await expect.poll(() => box.inputValue()).toBe('')
  const note = page.locator('.one-note', { hasText: 'Leans since the storm' })
  expect(await note.innerText()).toContain('today, Maren')
  await page.getByRole('button', { name: 'Withdraw the note: Leans since the storm' }).tap()
  await note.waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Undo' }).tap()
  await note.waitFor()
  await page.reload()
  await note.waitFor()
  await context.setOffline(false)
  await go(page, 'row')
  await everythingSent(page)
  const other = await another(phones, shed)
  await openBed(other, 'Pump')
  await other.getByRole('link', { name: new RegExp(`^${code}`) }).click()
  await other.locator('.one-note', { hasText: 'Leans since the storm' }).waitFor()
})

it('a plant’s page says which rule gave its season, where it stands, its kin, and how its stems compare', async () => {
  const { page } = await offline(phones, shed)
  await openPlant(page, 'Well', 5)
  await page.getByText(/^Season \d: planted .*after that year’s flush, so \d{4} (is|was) its first\.$/).waitFor()
  await page.getByRole('img', { name: /^Well, lines: 3\. This plant: line 1, number \d+ of 18\.$/ }).waitFor()
  const parent = page.locator('.kin', { hasText: 'Divided from' }).getByRole('link')
  const [own, mother] = [await page.getByRole('heading', { level: 1 }).innerText(), (await parent.innerText()).trim()]
  await parent.tap()
  await page.getByRole('heading', { name: mother, level: 1 }).waitFor()
  await page.locator('.kin', { hasText: 'Divisions of it' }).getByRole('link', { name: own }).waitFor()

  await openBed(page, 'Gate')
  await page.locator('.plants li', { has: page.locator('input:checked') }).locator('a').first().click()
  await page.getByText(/^\d+ stems in its third season \(\d{4}\): ((more|fewer) than|in the middle of its age)/).waitFor()
  expect(await page.locator('.age-strips svg').count()).toBe(3)
})
