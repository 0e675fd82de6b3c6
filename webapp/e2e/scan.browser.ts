// A tag's code opens its plant, with no signal: by the camera and by a photo, in Beds and on a walk.

import { execFileSync } from 'node:child_process'
import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { violations } from './accessible'
import { Phones } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { film, photoOf } from './tag'
import { calledOut, countedBed, countHandful, go, openWalk, readyForField, sayWho } from './walk'

const folder = scratchFolder('camera')
const camera = join(folder, 'camera.y4m')
let shed: Shed
const phones = new Phones(camera)

beforeAll(async () => {
  await film(camera, '')
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
  rmSync(folder, { recursive: true, force: true })
})

/** Opening a camera and compiling wasm takes a while beside other work. */
const soon = { timeout: 30_000 }

/** A phone with the farm on it and no way to the shed, which allows the camera unless told not to. */
async function inTheField(allowed = true): Promise<Page> {
  await restarted()
  const { page, context } = await phones.add({ touch: true })
  if (allowed) await context.grantPermissions(['camera'])
  await page.goto(shed.url)
  await sayWho(page)
  await readyForField(page)
  await shed.kill()
  await page.reload()
  await page.getByRole('navigation').first().waitFor()
  return page
}

/** The shed is there again, whatever a test before left. */
async function restarted(): Promise<void> {
  await shed.kill()
  await shed.start()
}

/** The codes of a bed's plants in walk order. */
async function codesOf(page: Page, bed: string): Promise<string[]> {
  await go(page, 'beds')
  await page.getByRole('link', { name: new RegExp(`^${bed}`) }).click()
  const codes = await page.locator('.plants b').allInnerTexts()
  await go(page, 'beds')
  return codes
}

function heading(page: Page, text: string) {
  return page.getByRole('heading', { level: 1, name: text, exact: true })
}

describe('with no signal', () => {
  it('a tag before the camera opens its plant’s page, from which the way back leads past the camera', async () => {
    const page = await inTheField()
    const code = (await codesOf(page, 'Gate'))[4]!
    await page.getByRole('link', { name: 'Scan a tag' }).click()
    await page.getByText('Hold the tag’s code in the square.').waitFor(soon)
    expect(await violations(page)).toEqual([])
    await go(page, 'beds') // the next time that it is opened, the camera sees the tag
    await film(camera, code)
    await page.getByRole('link', { name: 'Scan a tag' }).click()
    await heading(page, code).waitFor(soon)
    expect(await page.locator('[aria-live]').innerText()).toBe(`Plant ${code} found.`)
    await page.goBack()
    await heading(page, 'Beds').waitFor()
  })

  it('a photo of a tag opens it where the camera was not allowed', async () => {
    const page = await inTheField(false)
    const code = (await codesOf(page, 'Gate'))[2]!
    await page.getByRole('link', { name: 'Scan a tag' }).click()
    await page.getByRole('alert').filter({ hasText: 'The camera was not allowed.' }).waitFor(soon)
    expect(await violations(page)).toEqual([])
    await page.getByText('Take a photo of the tag', { exact: true }).waitFor()
    const photo = page.locator('input[capture]')
    await photo.setInputFiles({ name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('stakes, twine') })
    await page.getByText('The photo could not be read on this device.').waitFor()
    await photo.setInputFiles(await photoOf('ZZ9 none'))
    await page.getByText('No plant of this farm has this code.').waitFor(soon)
    expect(await page.locator('.read').innerText()).toBe('ZZ9 none')
    expect(await violations(page)).toEqual([])
    await photo.setInputFiles(await photoOf(code.toLowerCase().replaceAll(' ', '')))
    await heading(page, code).waitFor(soon)
  })

  it('on a walk, a tag takes the walk to its plant, and one of another bed is told and offers the ways there', async () => {
    const page = await inTheField()
    await go(page, 'beds')
    await page.getByRole('link', { name: /^Gate/ }).click()
    const uncounted = page.locator('.plants > li:has(input:not(:checked))').first()
    const elsewhere = await uncounted.locator('b').innerText()
    await openWalk(page, countedBed)
    await go(page, 'row/plants')
    const code = await page.locator('.rows .line b').nth(5).innerText()
    await film(camera, code)
    await page.getByRole('link', { name: 'Scan a tag' }).click()
    await page.locator('.plant-card .code').waitFor(soon)
    expect(await calledOut(page)).toBe(code)

    await film(camera, elsewhere)
    await go(page, 'row/scan')
    await page.locator('.say', { hasText: `Plant ${elsewhere} stands in Gate: it is not on this walk.` }).waitFor(soon)
    expect(await violations(page)).toEqual([])
    await page.getByRole('link', { name: 'Open its page' }).click()
    await heading(page, elsewhere).waitFor()
    await go(page, 'row/scan')
    await page.locator('.say', { hasText: `Plant ${elsewhere} stands in Gate` }).waitFor(soon)
    await page.getByRole('button', { name: 'Walk Gate from it' }).click()
    await page.locator('.plant-card .code').waitFor()
    expect(await calledOut(page)).toBe(elsewhere) // and counts there, though nobody else calls it out
    await countHandful(page, 2)
    await page.getByText(`Last: ${elsewhere}, 2 stems`).waitFor()
  })
})

/** A farm of two plants whose codes are the same but for a capital. */
async function openTwins(): Promise<Shed> {
  const [plants, cuts, data] = [join(folder, 'plants.csv'), join(folder, 'cuts.csv'), join(folder, 'twins')]
  writeFileSync(plants, 'plant,stock,bed,planted\nTW 1,Lantern mix,East,2025-09-20\ntw 1,Lantern mix,West,2025-09-20\n')
  writeFileSync(cuts, 'date,plant,stock,bed,planted,age,flush,grade,length_cm,stems\n')
  execFileSync(process.env['CORYMB_BINARY'] ?? '', ['import', '-plants', plants, '-cuts', cuts, '-data', data])
  return openShed('serve', { data })
}

it('a code that several plants may have is asked about, and never guessed', async () => {
  const twins = await openTwins()
  try {
    const { page } = await phones.add({ touch: true })
    await page.goto(`${twins.url}/#join/${twins.firstCode}`)
    await page.getByRole('button', { name: 'Join', exact: true }).click()
    await page.getByRole('textbox', { name: 'Your name' }).fill('Maren')
    await page.getByRole('textbox', { name: 'Name of the farm' }).fill('Twins')
    await page.getByRole('button', { name: 'Begin' }).click()
    await go(page, 'beds/scan')
    const photo = page.locator('input[capture]')
    await photo.setInputFiles(await photoOf('Tw1'))
    await page.getByRole('alert').filter({ hasText: '2 plants have the code Tw1. Which one is it?' }).waitFor(soon)
    expect(await violations(page)).toEqual([])
    await page.getByRole('button', { name: /West/ }).click()
    await heading(page, 'tw 1').waitFor()
    await go(page, 'beds/scan')
    await photo.setInputFiles(await photoOf('TW 1')) // exactly one plant's
    await heading(page, 'TW 1').waitFor(soon)
  } finally {
    await twins.close()
  }
})

it('the camera is off while the page is hidden, and when the page is left', async () => {
  const page = await inTheField()
  await page.evaluate(() => {
    const open = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices)
    const tracks: MediaStreamTrack[] = []
    Object.assign(globalThis, { tracks })
    navigator.mediaDevices.getUserMedia = async (asked) => {
      const stream = await open(asked)
      tracks.push(...stream.getTracks())
      return stream
    }
  })
  const states = () => page.evaluate(() => (globalThis as unknown as { tracks: MediaStreamTrack[] }).tracks.map((track) => track.readyState))
  const hide = (state: 'hidden' | 'visible') => page.evaluate((now) => {
    Object.defineProperty(document, 'visibilityState', { value: now, configurable: true })
    document.dispatchEvent(new Event('visibilitychange'))
  }, state)
  await film(camera, '')
  await go(page, 'beds/scan')
  await expect.poll(states, soon).toEqual(['live'])
  await hide('hidden')
  await expect.poll(states).toEqual(['ended'])
  await hide('visible')
  await expect.poll(states, soon).toEqual(['ended', 'live'])
  await go(page, 'beds')
  await expect.poll(states).toEqual(['ended', 'ended'])
})

it('no page may run wasm, only the worker that reads codes', async () => {
  await restarted()
  const page = (await phones.add()).page
  await page.goto(shed.url)
  const compiled = await page.evaluate(() => WebAssembly.compile(new Uint8Array([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0])).then(() => 'compiled', (reason: Error) => reason.name))
  expect(compiled).toBe('CompileError')
})
