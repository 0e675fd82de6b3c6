// The start page: what today asks of an owner and of crew, when it comes first, with no signal, and whether everybody can use
// it. Pictures of it, where CORYMB_PICTURES names a folder.

import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { terms } from '../src/ui/WhatIs'
import { drawn, type Reached, violationsAlong } from './accessible'
import { type CutFarm, openCutFarm } from './cut_farm'
import { openPackingFarm, type PackingFarm } from './packing_farm'
import { laptopSize, phoneSize, Phones, type PhoneOptions } from './phone'
import { openShed, type Shed } from './shed'
import { go, readyForField } from './walk'

let farm: PackingFarm
let cutting: CutFarm
let demo: Shed
const phones = new Phones()
const pictures = process.env['CORYMB_PICTURES']

beforeAll(async () => {
  if (pictures !== undefined) mkdirSync(pictures, { recursive: true })
  ;[farm, cutting, demo] = await Promise.all([openPackingFarm(), openCutFarm(), openShed('demo')])
})

afterAll(async () => {
  await phones.close()
  await Promise.all([farm.close(), cutting.close(), demo.close()])
})

/** Of a farm that cuts for its orders, of one that packs, and of the demo. */
async function opened(as: 'grower' | 'owner' | 'crew' | 'demo', options: PhoneOptions = {}): Promise<Page> {
  const { page, context } = await phones.add(options)
  if (as === 'grower') await cutting.admit(context, 0)
  if (as === 'owner' || as === 'crew') await farm.admit(context, as)
  await page.goto({ grower: cutting.shed.url, owner: farm.shed.url, crew: farm.shed.url, demo: demo.url }[as])
  await page.locator('.start').waitFor()
  return page
}

/** Phone and laptop, light and dark. */
async function pictured(page: Page, name: string): Promise<void> {
  if (pictures === undefined) return
  for (const [size, at] of [['phone', phoneSize], ['laptop', laptopSize]] as const) {
    await page.setViewportSize(at)
    for (const theme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme: theme })
      await page.waitForTimeout(150)
      await page.screenshot({ path: join(pictures, `${name}-${size}-${theme}.png`) })
    }
  }
  await page.setViewportSize(phoneSize)
  await page.emulateMedia({ colorScheme: 'light' })
}

const lines = (page: Page) => page.locator('.asked').allInnerTexts().then((all) => all.map((text) => text.replace(/\s+/g, ' ')))

it.each(['en', 'es'] as const)('says to an owner what today asks, each line on its way to its page, in %s', async (locale) => {
  const page = await opened('grower', { locale })
  await expect.poll(() => lines(page)).toContainEqual(expect.stringMatching(/^\d+ (stems to cut|tallos por cortar) /))
  console.log(locale, (await page.locator('.start').innerText()).replace(/\n+/g, ' | '))
  await pictured(page, `start-owner-${locale}`)
  await page.locator('.asked').first().click()
  await expect.poll(() => page.evaluate(() => location.hash)).toBe('#/row/cuts')
  await page.getByRole('link', { name: /^(Today|Hoy)$/ }).click()
  await page.locator('.start').waitFor()
})

it('tells crew no money and nothing that is an owner’s', async () => {
  const page = await opened('crew')
  await expect.poll(() => lines(page)).toContainEqual(expect.stringMatching(/to pack today/))
  const text = await page.locator('.start').innerText()
  expect(text).not.toMatch(/[€$£]|backup|ask/)
  await pictured(page, 'start-crew')
})

describe('comes first', () => {
  it('at a day’s first opening only', async () => {
    const page = await opened('owner')
    await page.goto('about:blank')
    await page.goto(farm.shed.url)
    await page.getByRole('heading', { name: 'Which bed?' }).waitFor()
    expect(await page.locator('.start').count()).toBe(0)
  })

  it('but not before a page that was asked for', async () => {
    const { page, context } = await phones.add()
    await farm.admit(context, 'owner')
    await page.goto(`${farm.shed.url}/#/shed/packing`)
    await page.getByRole('navigation').first().waitFor()
    expect(await page.evaluate(() => location.hash)).toBe('#/shed/packing')
  })
})

it('opens with no signal, with all that was known', async () => {
  const page = await opened('owner')
  await expect.poll(() => lines(page)).toContainEqual(expect.stringMatching(/to pack today/))
  await readyForField(page)
  await go(page, 'start')
  const before = await lines(page)
  await page.context().setOffline(true)
  await page.reload()
  await page.locator('.asked').first().waitFor()
  expect(await lines(page)).toEqual(before)
  await page.context().setOffline(false)
})

describe('a term', () => {
  it.each(['en', 'es'] as const)('is explained in place by keyboard, with nothing over the page, and in the list of all, in %s', async (locale) => {
    const page = await opened('demo', { locale })
    await go(page, 'shed')
    const mark = page.getByRole('button', { name: /“bench total”|«total de mesa»/ })
    await mark.focus()
    await page.keyboard.press('Enter')
    expect(await mark.getAttribute('aria-expanded')).toBe('true')
    const told = page.locator(`[id="${await mark.getAttribute('aria-controls')}"]`)
    expect(await told.innerText()).toMatch(/over the bench by grade|en la mesa por grado/)
    await pictured(page, `help-bench-${locale}`)
    expect(await page.locator('dialog[open], [popover]:popover-open').count()).toBe(0)
    await page.keyboard.press('Escape')
    expect([await mark.getAttribute('aria-expanded'), await told.count()]).toEqual(['false', 0])
    await page.keyboard.press('Enter')
    await told.getByRole('link').click()
    await page.getByRole('heading', { name: /^(What the words mean|Qué significan las palabras)$/ }).waitFor()
    expect(await page.locator('.words dt').count()).toBe(terms.length)
    await pictured(page, `help-words-${locale}`)
  })
})

const open = async (page: Page) => {
  for (const mark of await page.locator('.what-is-head > button').all()) if (await mark.isVisible()) await mark.click()
}

/** Pages with terms that are explained, each opened. */
const explaining: readonly Reached[] = ['row', 'shed', 'beds/ages', 'beds/plan', 'beds/colour', 'ahead', 'ahead/asks', 'ahead/division', 'shed/cards', 'shed/orders/channels/new']
  .map((place) => [place, async (page: Page) => { await go(page, place); await drawn(page); await page.waitForTimeout(500); await open(page) }])

it('can be used by everybody, on the made-up farm and on one that sells, with every term explained', async () => {
  const reach = (place: string): Reached => [place, (page: Page) => go(page, place)]
  expect(await violationsAlong(await opened('owner'), [reach('start')])).toEqual([])
  const page = await opened('demo')
  await pictured(page, 'start-demo')
  expect(await violationsAlong(page, [reach('start'), reach('start/words'), ...explaining])).toEqual([])
}, 300_000)
