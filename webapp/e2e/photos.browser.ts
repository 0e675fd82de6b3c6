// Photos: taken with no signal, kept through a killed app, brought to the shed in pieces, seen on another
// phone, taken away and put back.

import { rmSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { violations } from './accessible'
import { position, takeShot } from './camera'
import { Phones } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { go, readyForField, sayWho } from './walk'

const folder = scratchFolder('shed')
let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo', { data: folder })
})

afterAll(async () => {
  await phones.close()
  await shed.close()
  rmSync(folder, { recursive: true, force: true })
})

/** The line to a shed that was away is tried again after half a minute at most. */
const soon = { timeout: 45_000 }

/** Opens the page of a plant, by where it comes in its bed. */
async function openPlant(page: Page, nth: number): Promise<void> {
  await go(page, 'beds')
  await page.getByRole('link', { name: /^Gate/ }).click()
  await page.locator('.plants a').nth(nth).click()
  await page.getByRole('heading', { name: 'Photos' }).waitFor()
}

function tiles(page: Page) {
  return page.locator('.photo-grid .photo')
}

/** The widths and heights of the pictures shown, once all are there. */
async function shownSizes(page: Page, where: string): Promise<string[]> {
  return page.locator(where).evaluateAll((images) =>
    images.map((image) => (image instanceof HTMLImageElement && image.complete ? `${image.naturalWidth}x${image.naturalHeight}` : 'coming')))
}

/** What the shed has of the one photo that is named on a page's tile, asked with that phone's right to. */
async function atShed(page: Page, hash: string): Promise<Buffer | undefined> {
  const answer = await page.request.get(`${shed.url}/api/photos/${hash}`)
  return answer.ok() ? answer.body() : undefined
}

/** The hashes of the photos of this phone. */
function ownHashes(page: Page): Promise<string[]> {
  return page.evaluate(async () => {
    const named = (await indexedDB.databases()).find(({ name }) => name?.startsWith('corymb photos'))
    const db = await new Promise<IDBDatabase>((resolve) => {
      const opening = indexedDB.open(named!.name!)
      opening.onsuccess = () => resolve(opening.result)
    })
    const keys = await new Promise<IDBValidKey[]>((resolve) => {
      const asking = db.transaction('own').objectStore('own').getAllKeys()
      asking.onsuccess = () => resolve(asking.result)
    })
    db.close()
    return keys.map(String)
  })
}

describe('a photo taken with no signal', () => {
  it('shows at once, stays through a killed app, reaches the shed, and is seen on another phone', async () => {
    const a = await phones.addLasting({ touch: true })
    await a.page.goto(shed.url)
    await sayWho(a.page)
    await readyForField(a.page)
    const b = await phones.add()
    await b.page.goto(shed.url)
    await sayWho(b.page, 'Joaquín')
    await openPlant(b.page, 0)

    await shed.kill()
    await a.page.reload()
    await openPlant(a.page, 0)
    await a.page.getByText('Where a photo was taken, and whatever else a camera notes in it, is left out').waitFor()
    await a.page.getByText('Take a photo').waitFor()
    await a.page.locator('input[capture]').setInputFiles(await takeShot(a.page, { width: 640, height: 400 }))
    await expect.poll(() => shownSizes(a.page, '.photo-grid img'), soon).toEqual(['200x320'])
    expect(await tiles(a.page).innerText()).toContain('waits to be sent')
    expect(await violations(a.page)).toEqual([])
    await go(a.page, 'shed')
    await a.page.getByText(/^1 photo \(\d+ kB\) waits to be sent\.$/).waitFor()

    await a.killAndReopen(shed.url)
    await openPlant(a.page, 0)
    await expect.poll(() => shownSizes(a.page, '.photo-grid img'), soon).toEqual(['200x320'])
    expect(await tiles(a.page).innerText()).toContain('waits to be sent')

    // The change travels before the picture.
    await a.context.route('**/api/photos/**', (route) => route.abort())
    await shed.start()
    await go(a.page, 'row')
    await a.page.locator('.chip', { hasText: /^1 photo to send$/ }).waitFor()
    await openPlant(a.page, 0)
    await expect.poll(() => tiles(b.page).count(), soon).toBe(1)
    await expect.poll(() => tiles(b.page).innerText(), soon).toContain('not here yet: still on the phone that took it')
    expect(await violations(b.page)).toEqual([])
    await a.context.unroute('**/api/photos/**')
    await expect.poll(() => shownSizes(b.page, '.photo-grid img'), soon).toEqual(['200x320'])
    await expect.poll(() => tiles(a.page).innerText(), soon).not.toContain('waits')

    const [hash] = await ownHashes(a.page)
    const bytes = await atShed(b.page, hash!)
    expect(bytes?.subarray(0, 2).toString('hex')).toBe('ffd8')
    expect(bytes?.includes('Exif')).toBe(false)
    expect(bytes?.includes(position)).toBe(false)

    await tiles(b.page).click()
    await expect.poll(() => shownSizes(b.page, 'dialog img'), soon).toEqual(['400x640'])
    const top = await b.page.locator('dialog img').evaluate((image) => {
      const canvas = Object.assign(document.createElement('canvas'), { width: 400, height: 640 })
      const paper = canvas.getContext('2d')!
      paper.drawImage(image as HTMLImageElement, 0, 0)
      return [10, 600].map((y) => (paper.getImageData(200, y, 1, 1).data[0]! > 100 ? 'red' : 'blue'))
    })
    expect(top).toEqual(['red', 'blue'])
    expect(await violations(b.page)).toEqual([])
  })

  it('opens and closes with Escape, the button and going back, and gives the focus back', async () => {
    const page = (await phones.add()).page
    await page.goto(shed.url)
    await sayWho(page)
    await openPlant(page, 0)
    await tiles(page).locator('img').waitFor()
    const address = page.url()
    const closes: readonly (() => Promise<unknown>)[] = [
      () => page.keyboard.press('Escape'),
      () => page.getByRole('button', { name: 'Close' }).click(),
      () => page.goBack(),
    ]
    for (const close of closes) {
      await tiles(page).click()
      await page.getByRole('dialog').waitFor()
      await close()
      await page.getByRole('dialog').waitFor({ state: 'detached' })
      await expect.poll(() => page.evaluate(() => document.activeElement?.className)).toBe('photo')
      expect(page.url()).toBe(address)
    }
    await page.goBack()
    await expect.poll(() => page.url()).not.toBe(address) // no step was left behind
  })

  it('can be taken away and put back, on every phone', async () => {
    const [one, other] = [(await phones.add()).page, (await phones.add()).page]
    for (const page of [one, other]) {
      await page.goto(shed.url)
      await sayWho(page)
      await openPlant(page, 0)
      await tiles(page).locator('img').waitFor()
    }
    await tiles(one).click()
    await one.getByText('It is not deleted, and can be put back.').waitFor()
    await one.getByRole('button', { name: 'Take away' }).click()
    await one.getByRole('dialog').waitFor({ state: 'detached' })
    await expect.poll(() => one.evaluate(() => document.activeElement?.textContent)).toBe('Taken away: 1')
    await expect.poll(() => tiles(other).count(), soon).toBe(0)
    expect(await violations(one)).toEqual([])
    await one.getByRole('button', { name: 'Put back' }).click()
    await expect.poll(() => tiles(other).count(), soon).toBe(1)
    expect(await tiles(one).count()).toBe(1)
  })
})

/** A phone of somebody new, whom an owner's phone invited. */
async function invited(owner: Page, name: string, role: 'crew' | 'viewer'): Promise<Page> {
  const answer = await owner.request.post(`${shed.url}/api/invitations`, { data: { person: crypto.randomUUID(), name, role } })
  const { code } = (await answer.json()) as { code: string }
  const { page } = await phones.add()
  await page.goto(`${shed.url}/#join/${code.replace('-', '')}`)
  await page.getByRole('button', { name: 'Join', exact: true }).click()
  await page.getByRole('button', { name: 'Start' }).click()
  await page.getByRole('navigation').first().waitFor()
  return page
}

describe('a photo that an owner deletes', () => {
  it('is asked for once more, needs the shed, and then says on every phone that it was removed', async () => {
    const owner = (await phones.add()).page
    await owner.goto(shed.url)
    await sayWho(owner)
    await openPlant(owner, 6)
    await owner.locator('input[capture]').setInputFiles(await takeShot(owner, { width: 640, height: 400, seed: 11 }))
    await expect.poll(() => shownSizes(owner, '.photo-grid img'), soon).toEqual(['200x320'])
    await expect.poll(() => tiles(owner).innerText(), soon).not.toContain('waits')
    const [hash] = await ownHashes(owner)
    const others = [await invited(owner, 'Ilse', 'crew'), await invited(owner, 'Odo', 'viewer')]
    for (const page of others) {
      await openPlant(page, 6)
      await tiles(page).locator('img').waitFor()
      await tiles(page).click()
      await expect.poll(() => shownSizes(page, 'dialog img'), soon).toEqual(['400x640'])
      expect(await page.getByRole('button', { name: 'Delete for good' }).count()).toBe(0)
      await page.keyboard.press('Escape')
    }

    await tiles(owner).click()
    const first = owner.getByRole('button', { name: 'Delete for good' })
    const second = owner.getByRole('button', { name: 'Delete it for good' })
    await first.click()
    await owner.getByRole('button', { name: 'Cancel' }).click()
    await expect.poll(() => owner.evaluate(() => document.activeElement?.textContent)).toBe('Delete for good')
    await shed.kill()
    await first.click()
    await owner.getByText('works only with the shed in reach').waitFor()
    expect(await second.count()).toBe(0)
    expect(await violations(owner)).toEqual([])
    await shed.start()
    await second.click(soon)
    await owner.getByRole('dialog').waitFor({ state: 'detached' })
    await expect.poll(() => tiles(owner).innerText()).toContain('removed: an owner deleted it')
    expect(await owner.evaluate(() => document.activeElement?.className)).toBe('photo')
    expect(await tiles(owner).locator('img').count()).toBe(0)
    expect(await ownHashes(owner)).not.toContain(hash)
    expect(await atShed(owner, hash!)).toBe(undefined)
    for (const page of others) {
      await go(page, 'row')
      await openPlant(page, 6)
      await expect.poll(() => tiles(page).innerText(), soon).toContain('removed: an owner deleted it')
      await tiles(page).click()
      await page.getByText('An owner deleted this picture for good.').waitFor()
      expect(await violations(page)).toEqual([])
    }
  })
})

describe('the way to the shed', () => {
  it('goes on in the middle after a break and a killed shed, and again to a shed that was restored without it', async () => {
    const { page, context } = await phones.add()
    await page.goto(shed.url)
    await sayWho(page)
    await openPlant(page, 1)
    const offsets: number[] = []
    let pieces = 0, killed = false
    await context.route('**/upload', async (route) => {
      if (route.request().method() !== 'PATCH') return route.continue()
      pieces++
      if (pieces === 2) return route.abort('connectionreset')
      if (pieces === 3) {
        await shed.kill()
        killed = true
        return route.abort('connectionreset')
      }
      offsets.push(Number(route.request().headers()['upload-offset']))
      await route.continue()
    })
    await page.locator('input[capture]').setInputFiles(await takeShot(page, { width: 3000, height: 2000, noise: true }))
    await expect.poll(() => killed, soon).toBe(true) // a shed that is ending still holds its folder
    await shed.start()
    await expect.poll(() => tiles(page).innerText(), soon).not.toContain('waits')
    expect(offsets.slice(0, 2)).toEqual([0, 262144])
    expect(new Set(offsets).size).toBe(offsets.length) // no byte was sent twice
    const [hash] = await ownHashes(page)
    const bytes = await atShed(page, hash!)
    expect(bytes!.length).toBeGreaterThan(1_000_000)

    await shed.kill()
    rmSync(join(folder, 'photos'), { recursive: true })
    await shed.start()
    await expect.poll(async () => (await atShed(page, hash!))?.equals(bytes!), soon).toBe(true)
  })

  it('tells why a picture is not taken in, and goes on with the next', async () => {
    const { page } = await phones.add()
    await page.goto(shed.url)
    await sayWho(page)
    await openPlant(page, 2)
    const notOne = { name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('stakes, twine') }
    const shot = await takeShot(page, { width: 100, height: 100, seed: 7 })
    await page.locator('input[multiple]').setInputFiles([notOne, shot, shot])
    await page.getByRole('alert').filter({ hasText: 'this browser cannot read that picture' }).waitFor()
    await expect.poll(() => tiles(page).count(), soon).toBe(1)
  })
})

describe('a picture that is not taken in', () => {
  it('is told of at the next plant too, until somebody has read why', async () => {
    const { page } = await phones.add()
    await page.addInitScript(() => {
      const decode = globalThis.createImageBitmap
      const slow = async (picked: ImageBitmapSource, options?: ImageBitmapOptions) => {
        await new Promise((done) => setTimeout(done, 1_500))
        return decode(picked, options)
      }
      Object.assign(globalThis, { createImageBitmap: slow })
    })
    await page.goto(shed.url)
    await sayWho(page)
    await openPlant(page, 4)
    await page.locator('input[multiple]').setInputFiles({ name: 'notes.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('stakes, twine') })
    await openPlant(page, 5)
    await page.getByRole('link', { name: /^A photo of .+ was not taken in/ }).click()
    await page.getByRole('alert').filter({ hasText: 'this browser cannot read that picture' }).waitFor()
    await openPlant(page, 5)
    await expect.poll(() => page.getByRole('link', { name: /was not taken in/ }).count()).toBe(0)
    await openPlant(page, 4)
    expect(await page.getByRole('alert').count()).toBe(0)
  })
})

describe('a phone that cannot send its photos', () => {
  it('says so before it leaves the farm, saves them to a file, and another brings them to the shed', async () => {
    const [page, other] = [(await phones.add()).page, (await phones.add()).page]
    for (const one of [page, other]) {
      await one.goto(shed.url)
      await sayWho(one)
      await openPlant(one, 3)
    }
    await page.route('**/api/photos/**', (route) => route.abort())
    await page.locator('input[capture]').setInputFiles(await takeShot(page, { width: 640, height: 400, seed: 9 }))
    await expect.poll(() => tiles(other).innerText(), soon).toContain('not here yet')

    await go(page, 'shed/leave')
    await page.getByText('1 photo has not reached the shed and is on this phone alone.').waitFor()
    expect(await violations(page)).toEqual([])
    const saving = page.waitForEvent('download')
    await page.getByRole('button', { name: /^Save 1 photo to a file/ }).click()
    const saved = await saving
    expect(saved.suggestedFilename()).toMatch(/^corymb-photos-[\d-]+\.zip$/)

    await go(other, 'shed')
    await other.locator('input[accept=".jsonl,.zip"]').setInputFiles(await saved.path())
    await other.getByText('The file is read in: 1 photo is new and kept.').waitFor()
    await other.locator('input[accept=".jsonl,.zip"]').setInputFiles(await saved.path())
    await other.getByText('The file is read in: 1 photo was there already.').waitFor()
    await openPlant(other, 3)
    await expect.poll(() => shownSizes(other, '.photo-grid img'), soon).toEqual(['200x320'])
    await page.unroute('**/api/photos/**')
    await openPlant(page, 3)
    await expect.poll(() => tiles(page).innerText(), { timeout: 90_000 }).not.toContain('waits')
  })
})
