// Pictures of measuring a colour in every state, on a phone and a laptop, light and dark, to be looked at by a person.
// They are written to the folder that CORYMB_PICTURES names, else to one that is told.

import { mkdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, it } from 'vitest'
import type { Photo } from '../src/colourcard/measurement'
import type { Condition } from '../src/colourcard/testing/scenes'
import { drawCardScene } from '../src/colourcard/testing/cardscenes'
import { codeOf } from '../src/colourcard/testing/codes'
import { render } from '../src/colourcard/testing/render'
import { film, nothing, photoOf, sceneOf } from './colour_card'
import { laptopSize, type PhoneOptions, Phones, phoneSize } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { go } from './walk'

const folder = process.env['CORYMB_PICTURES'] ?? scratchFolder('pictures')
mkdirSync(folder, { recursive: true })
const films = scratchFolder('films')
const camera = join(films, 'camera.y4m')
const phones = new Phones(camera)
const soon = { timeout: 120_000 }

let shed: Shed
const photos = new Map<Condition, Photo>()

beforeAll(async () => {
  shed = await openShed('demo')
  for (const [seed, condition] of [[4, 'plain'], [2, 'too dark'], [9, 'too slanted'], [2, 'head cut off']] as const) photos.set(condition, (await sceneOf(seed, condition)).photo)
}, 180_000)

afterAll(async () => {
  await phones.close()
  await shed.close()
  rmSync(films, { recursive: true, force: true })
  console.log(`pictures are in ${folder}`)
})

const looks: readonly [string, PhoneOptions][] = [
  ['phone-light', { size: phoneSize }],
  ['phone-dark', { size: phoneSize, dark: true }],
  ['laptop-light', { size: laptopSize }],
  ['laptop-dark', { size: laptopSize, dark: true }],
  ['phone-spanish', { size: phoneSize, locale: 'es-MX' }],
]

async function picture(page: Page, look: string, name: string): Promise<void> {
  await page.waitForTimeout(400)
  await page.screenshot({ path: join(folder, `colour-${name}-${look}.png`) })
}

/** Opens the camera of the third plant of a bed, before which stands what was asked for. */
async function openCamera(page: Page, seen: Photo): Promise<void> {
  film(camera, [seen], 1)
  await go(page, 'beds')
  await page.locator('.bed-list .rows a').nth(1).click()
  await page.locator('.plants a').nth(2).click()
  await page.locator('.plant-colour a.btn').click()
  await page.locator('.live').waitFor(soon)
}

describe.each(looks)('on a %s', (look, options) => {
  it('the camera, what is wrong, the result, and what it is kept as', async () => {
    const { page, context } = await phones.add(options)
    await context.grantPermissions(['camera'])
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    await openCamera(page, nothing())
    await page.locator('.sight-words .large').waitFor(soon)
    await picture(page, look, 'camera-aim')
    for (const condition of ['too dark', 'too slanted', 'head cut off'] as const) {
      await openCamera(page, photos.get(condition)!)
      await page.locator('.sight-words .large').waitFor(soon)
      await page.waitForTimeout(5_000)
      await picture(page, look, `camera-${condition.replaceAll(' ', '-')}`)
    }
    await openCamera(page, photos.get('plain')!)
    await page.locator('.by-itself').click(soon)
    await page.locator('.outline.well').waitFor(soon)
    await picture(page, look, 'camera-well-by-hand')
    await page.locator('.by-itself').click()
    await page.waitForTimeout(300)
    await picture(page, look, 'camera-well')
    await page.locator('.measure-result').waitFor(soon)
    await picture(page, look, 'result')
    await page.locator('.of-stage .btn').nth(2).click()
    await page.locator('.of-light .btn').nth(2).click()
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight))
    await picture(page, look, 'result-warned')
    const outline = page.locator('.head-photo .head .line')
    await outline.click({ force: true, position: { x: 20, y: 20 } })
    await page.locator('.correct .btn').waitFor(soon)
    await page.evaluate(() => scrollTo(0, 0))
    await picture(page, look, 'result-touched')
    await page.locator('.result-told .btn.main').click()
    await page.locator('.measure-done, .note.stop').first().waitFor(soon)
    await picture(page, look, 'kept')
    await go(page, 'beds')
    await page.locator('.bed-list .rows a').nth(1).click()
    await page.locator('.plants a').nth(2).click()
    await page.locator('.plant-colour').scrollIntoViewIfNeeded()
    await picture(page, look, 'plant')
  }, 400_000)

  it('without a camera, a photo that was refused, and one that cannot be read', async () => {
    const { page } = await phones.add(options)
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    await go(page, 'beds')
    await page.locator('.bed-list .rows a').nth(1).click()
    await page.locator('.plants a').nth(4).click()
    await page.locator('.plant-colour a.btn').click()
    await page.getByRole('alert').waitFor(soon)
    await picture(page, look, 'no-camera')
    await page.locator('.measure-foot input:not([capture])').setInputFiles({ name: 'head.heic', mimeType: 'image/heic', buffer: Buffer.from('\0\0\0\x18ftypheic', 'latin1') })
    await page.locator('.note.stop').waitFor(soon)
    await picture(page, look, 'unreadable')
    const refused = photoOf(await sceneOf(2, 'too dark'))
    await page.locator('.measure-foot input:not([capture])').setInputFiles(await refused)
    await page.locator('.measure-busy').waitFor(soon)
    await page.screenshot({ path: join(folder, `colour-busy-${look}.png`) })
    await page.locator('.measure-result').waitFor(soon)
    await picture(page, look, 'refused')
  }, 240_000)

  it('a session', async () => {
    film(camera, [photos.get('plain')!], 1)
    const { page, context } = await phones.add(options)
    await context.grantPermissions(['camera'])
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    await go(page, 'beds')
    await page.locator('.bed-list .rows a').nth(1).click()
    const bed = (await page.evaluate(() => location.hash)).split('/').at(-1) ?? ''
    await go(page, `row/walks/${bed}`)
    await picture(page, look, 'walks')
    await go(page, `row/measure/${bed}`)
    await page.locator('.plan-number').waitFor(soon)
    await picture(page, look, 'session-plan')
    for (let n = 0; n < 3 && (await page.locator('.session-references .class').count()) > 0; n++) {
      await page.locator('.session-references .class').first().click()
      await page.waitForTimeout(600)
    }
    await picture(page, look, 'session-plan-references')
    await page.locator('.act .btn').last().click()
    await page.locator('.live').waitFor(soon)
    await picture(page, look, 'session-card-camera')
    await page.locator('.card-told').waitFor(soon)
    await picture(page, look, 'session-card')
    await page.locator('.card-told .btn').last().click()
    await page.locator('.outline').waitFor(soon)
    await picture(page, look, 'session-reference')
    await page.locator('.measure-foot .btn.main').click()
    await page.locator('.measure-result').waitFor(soon)
    await page.locator('.of-stage .btn').nth(1).click()
    await page.locator('.of-light .btn').first().click()
    await page.locator('.result-told .btn.main').click()
    await page.locator('.last-action').waitFor(soon)
    await page.locator('.outline').waitFor(soon)
    await picture(page, look, 'session-next')
    await go(page, `row/measure/${bed}/plants`)
    await picture(page, look, 'session-list')
    await go(page, `row/measure/${bed}`)
    for (let n = 0; n < 60 && (await page.locator('.session-end').count()) === 0; n++) {
      await page.locator('.measure-foot .act .tall').last().click()
      await page.waitForTimeout(50)
    }
    await picture(page, look, 'session-end')
    await go(page, `row/measure/${bed}/plan`)
    await picture(page, look, 'session-plan-again')
  }, 400_000)
})

describe.each(looks)('the bed in measured colours and a card by photo, on a %s', (look, options) => {
  async function whole(page: Page, name: string): Promise<void> {
    await page.waitForTimeout(600)
    await page.screenshot({ path: join(folder, `colour-${name}-${look}.png`), fullPage: true })
  }

  it('the bed', async () => {
    const { page } = await phones.add(options)
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    await go(page, 'beds')
    await page.locator('.bed-list .rows a').nth(1).click()
    await page.locator('.picture-link').click()
    await page.locator('.picture-colours .btn').last().click()
    await picture(page, look, 'bed-measured')
    await page.locator('.picture-stage canvas').press('+')
    await page.locator('.picture-stage canvas').press('+')
    await page.locator('.picture-stage canvas').press('+')
    const drifted = page.locator('.picture-line th .small.block').first()
    await drifted.waitFor()
    await drifted.locator('xpath=..').locator('button').click()
    await page.evaluate(() => scrollTo(0, 0))
    await picture(page, look, 'bed-measured-near')
    await whole(page, 'bed-measured-whole')
    await page.pdf({ path: join(folder, `colour-bed-measured-${look}.pdf`), format: 'A4', preferCSSPageSize: true })
  })

  it('the card', async () => {
    const codes = async (of: string) => ({ batch: of, card: await codeOf(`CARD/1/${of}`), tag: await codeOf('HKV 4J') })
    const two = { known: await codes('6GRATJ'), unknown: await codes('333334') }
    const [card, patch] = [drawCardScene(2, two, 'card'), drawCardScene(2, two, 'patch')]
    const { page } = await phones.add(options)
    await page.goto(shed.url)
    await page.getByRole('navigation').first().waitFor()
    await go(page, 'shed/cards/6GRATJ/typed')
    const drawn = render(card.scene)
    const typed = drawn.beside!.known.patches.flatMap(({ L, a, b }) => [L, a, b].map((part) => part.toFixed(2)))
    for (const [i, text] of typed.entries()) await page.locator('.card-row input').nth(i).fill(text)
    await page.locator('main button.main').last().click()
    await page.locator('.card-colours').waitFor()
    await go(page, 'shed/cards/333334')
    await picture(page, look, 'card-unknown')
    await go(page, 'shed/cards/333334/photo')
    await picture(page, look, 'card-photo')
    const input = page.locator('input[type=file]').last()
    await input.setInputFiles(await photoOf(render({ ...card.scene, beside: undefined })))
    await page.locator('.card-photos .stop').first().waitFor(soon)
    await input.setInputFiles(await photoOf(drawn))
    await page.locator('.card-found').waitFor(soon)
    await whole(page, 'card-photo-found')
    await page.locator('.choices .btn').nth(1).click()
    await page.locator('.card-row input').first().fill(patch.scene.square!.lab.L.toFixed(1))
    await input.setInputFiles(await photoOf(render(patch.scene)))
    await page.locator('.card-photo-tap').waitFor()
    await whole(page, 'card-photo-tap')
  })
})
