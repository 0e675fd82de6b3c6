// Pictures of every state that a grower meets, on a phone and a laptop, light and dark, to be looked at by
// a person. They are written to the folder that CORYMB_PICTURES names, else to one that is told.

import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, describe, it } from 'vitest'
import { laptopSize, type PhoneOptions, Phones, phoneSize } from './phone'
import { measureFromFile, plantsThat } from './plant_colour_shots'
import { openShed, scratchFolder, type Shed } from './shed'
import { countHandful, go, openWalk, readyForField, sayWho } from './walk'

const folder = process.env['CORYMB_PICTURES'] ?? scratchFolder('pictures')
mkdirSync(folder, { recursive: true })

const looks: readonly [string, PhoneOptions][] = [
  ['phone-light', { size: phoneSize }],
  ['phone-dark', { size: phoneSize, dark: true }],
  ['laptop-light', { size: laptopSize }],
  ['laptop-dark', { size: laptopSize, dark: true }],
  ['phone-spanish', { size: phoneSize, locale: 'es-MX' }],
]

const phones = new Phones()
const sheds: Shed[] = []

afterAll(async () => {
  await phones.close()
  for (const shed of sheds) await shed.close()
  console.log(`pictures are in ${folder}`)
})

async function shedOf(command: 'serve' | 'demo'): Promise<Shed> {
  const shed = await openShed(command)
  sheds.push(shed)
  return shed
}

/** What is drawn on a canvas or fetched as a file of its own comes a moment later. */
async function picture(page: Page, look: string, name: string): Promise<void> {
  await page.waitForTimeout(600)
  await page.screenshot({ path: join(folder, `${name}-${look}.png`) })
}

async function untilClosed(page: Page): Promise<void> {
  for (let left = 40; left > 0 && (await page.locator('.plant-card').count()) > 0; left--) await page.locator('.act .main').click()
}

describe.each(looks)('on a %s', (look, options) => {
  it('an empty farm and the first plant', async () => {
    const shed = await shedOf('serve')
    const { page } = await phones.add(options)
    await page.goto(`${shed.url}/#join/${shed.firstCode}`)
    await page.locator('button.main').first().click()
    await page.getByRole('textbox').nth(1).waitFor()
    for (const field of await page.getByRole('textbox').all()) await field.fill('Maren')
    await picture(page, look, 'first-owner')
    await page.locator('button.main').click()
    await page.getByRole('navigation').first().waitFor()
    await picture(page, look, 'first-bed')
    for (const place of ['row', 'shed', 'beds']) {
      await go(page, place)
      await picture(page, look, `empty-${place}`)
    }
    await go(page, 'beds/tray')
    await page.getByRole('textbox').first().fill('Yarrow, mixed')
    await picture(page, look, 'first-tray')
    await page.locator('main button.main').last().click()
    await picture(page, look, 'first-planted')
  })

  it('a walk, its end, out of reach, with a full storage and in large type', async () => {
    const shed = await shedOf('demo')
    const { page, context } = await phones.add(options)
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    if (options.locale === undefined) await sayWho(page)
    if (options.locale === undefined) await readyForField(page)
    await openWalk(page)
    await picture(page, look, 'walk-first')
    if (options.locale === undefined) for (const stems of [3, 7, 1]) await countHandful(page, stems)
    await picture(page, look, 'walk-middle')
    await page.locator('.act .square').first().click()
    await picture(page, look, 'walk-grid')
    await page.locator('.act .square').first().click()
    await context.setOffline(true)
    await picture(page, look, 'walk-offline')
    await page.evaluate(() => { document.documentElement.style.fontSize = '200%' })
    await picture(page, look, 'walk-large-type')
    await page.evaluate(() => { document.documentElement.style.fontSize = '' })
    await fill(page)
    await page.locator('.handful button').nth(3).click()
    await picture(page, look, 'walk-storage-full')
    await context.setOffline(false)
  })

  it('all done, and every page of the beds', async () => {
    const shed = await shedOf('demo')
    const { page } = await phones.add(options)
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    await openWalk(page)
    await untilClosed(page)
    await picture(page, look, 'walk-done')
    await go(page, 'beds')
    await page.getByRole('link', { name: /^Gate/ }).click()
    await picture(page, look, 'bed')
    const bed = (await page.evaluate(() => location.hash)).split('/').at(-1) ?? ''
    for (const of of ['picture', 'tags', 'flags', 'tray', 'change']) {
      await go(page, `beds/${of}/${bed}`)
      await picture(page, look, `bed-${of}`)
    }
    for (const walk of ['walks', 'stand', 'colour']) {
      await go(page, `row/${walk}/${bed}`)
      await picture(page, look, `row-${walk}`)
    }
    await go(page, `beds/bed/${bed}`)
    await page.locator('.plants a').first().click()
    await picture(page, look, 'plant')
    const plant = (await page.evaluate(() => location.hash)).split('/').at(-1) ?? ''
    for (const deed of ['divide', 'move']) {
      await go(page, `beds/${deed}/${plant}`)
      await picture(page, look, `plant-${deed}`)
    }
    for (const place of ['shed', 'shed/sheet', 'shed/keys', 'beds/stocks', 'beds/scan', 'beds/flags']) {
      await go(page, place)
      await picture(page, look, place.replace('/', '-'))
    }
  })
})

describe.each(looks)('a plant’s colour on a %s', (look, options) => {
  it('that holds, drifts, may drift and cannot be told, with a photo, put right, taken away, and before the shed was asked', async () => {
    const shed = await shedOf('demo')
    const { page, context } = await phones.add(options)
    await page.route('**/api/colour', (route) => route.abort())
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    const [drifts = ''] = await plantsThat(page, shed, 'drift')
    const show = async (name: string, part = '.plant-colour') => {
      await page.locator(part).last().evaluate((element) => element.scrollIntoView({ block: 'start' }))
      await picture(page, look, `plant-colour-${name}`)
    }
    await go(page, `beds/plant/${drifts}`)
    await page.locator('.plant-colour .note').waitFor()
    await show('unasked')
    await page.unroute('**/api/colour')
    await page.locator('.plant-colour .note.stop .btn').click()
    for (const state of ['drift', 'watch', 'none', 'cannot_tell']) {
      await go(page, `beds/plant/${(await plantsThat(page, shed, state))[0]}`)
      await page.locator('.plant-colour .say b').first().waitFor({ timeout: 60_000 })
      await show(state)
    }
    await measureFromFile(page, drifts, 2)
    await page.locator('.cut img').waitFor()
    await show('photo', '.head-tile')
    await page.locator('.reading-right summary').last().click()
    await page.locator('.reading-right[open] .btn').nth(2).click()
    await show('right', '.head-tile')
    await show('right-below', '.told-by-eye')
    await page.locator('.reading-right[open] .btn').last().click()
    await page.locator('.plant-colour .undoable').waitFor()
    await show('withdrawn')
    await context.setOffline(true)
    await page.evaluate(() => { document.documentElement.style.fontSize = '200%' })
    await show('large-type', '.head-seasons')
  }, 240_000)
})

/** The colours of a print on matte paper, as an instrument tells them. */
const cardColours = '31 0 -1 40 0 -1 55 0 -1 70 0 -1 86 0 -1 45 50 25 62 34 47 80 5 61 51 -27 24 40 20 -33 57 43 -4 95 0 -2'.split(' ')

describe.each(looks)('colour cards on a %s', (look, options) => {
  it('from none to some, characterised, old and retired', async () => {
    const shed = await shedOf('demo')
    const { page } = await phones.add(options)
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    await go(page, 'shed/cards')
    await picture(page, look, 'cards-none')
    await go(page, 'shed/cards/print')
    await page.locator('button.main').click()
    await page.locator('.note a.btn').waitFor()
    await picture(page, look, 'cards-printed')
    await page.locator('.note a.btn').click()
    await picture(page, look, 'cards-batch-new')
    await whole(page, look, 'cards-batch-new-whole')
    await page.locator('a.btn.tall[href$=typed]').click()
    const inputs = page.locator('.card-row input')
    for (const [i, text] of cardColours.entries()) await inputs.nth(i).fill(i === 25 ? '27' : text)
    await inputs.nth(25).click()
    await picture(page, look, 'cards-typing')
    await inputs.nth(25).fill('-27')
    await page.locator('button.main').click()
    await page.locator('.card-colours').waitFor()
    await picture(page, look, 'cards-batch-typed')
    await whole(page, look, 'cards-batch-typed-whole')
    for (const [code, day] of [['K7M4QE', '2024-05-01'], ['333334', '2026-03-01']] as const) {
      await go(page, 'shed/cards')
      await page.locator('form input').first().fill(code)
      await page.locator('form input[type=date]').fill(day)
      await page.locator('form button').click()
      await page.locator('.facts').waitFor()
    }
    await picture(page, look, 'cards-batch-elsewhere')
    await page.locator('section.card button').last().click()
    await picture(page, look, 'cards-batch-retired')
    await go(page, 'shed/cards')
    await picture(page, look, 'cards-list')
    await go(page, 'shed/cards/K7M4QE')
    await picture(page, look, 'cards-batch-old')
    await shed.kill()
    await go(page, 'shed/cards/print')
    await picture(page, look, 'cards-print-offline')
  })
})

/** A page with what lies below the screen's edge. */
async function whole(page: Page, look: string, name: string): Promise<void> {
  await page.waitForTimeout(300)
  await page.screenshot({ path: join(folder, `${name}-${look}.png`), fullPage: true })
}

/** The disk is full: nothing more can be stored. */
async function fill(page: Page): Promise<void> {
  await page.evaluate(() => {
    const full = () => { throw new DOMException('the disk is full', 'QuotaExceededError') }
    IDBObjectStore.prototype.put = full
    IDBObjectStore.prototype.add = full
  })
}
