// The bed as it is, with no signal: as many heads as plants, the seasons, a plant by finger, by keyboard and
// from the list; what axe-core says of it; and one sheet of paper.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { violations, violationsInBothThemes } from './accessible'
import { type BedFarm, known, openBedFarm } from './bed_farm'
import { laptopSize, Phones, type PhoneOptions } from './phone'
import { openShed } from './shed'
import { go, readyForField, sayWho } from './walk'

const [lines, numbers] = [6, 14]
let farm: BedFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openBedFarm({ lines, numbers, seed: 3 })
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

/** Opens the bed's page on a phone of its own, which then has no signal. */
async function openBed(options: PhoneOptions = {}): Promise<Page> {
  const { page, context } = await phones.add(options)
  await farm.admit(context)
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor()
  await readyForField(page)
  await context.setOffline(true)
  await go(page, `beds/bed/${farm.bed}`)
  return page
}

async function openPicture(options: PhoneOptions = {}): Promise<Page> {
  const page = await openBed(options)
  await page.getByRole('link', { name: /^The bed as it is/ }).click()
  await picture(page).waitFor()
  await expect.poll(() => page.getByRole('row').count(), { timeout: 10_000 }).toBeGreaterThan(lines * numbers)
  return page
}

const picture = (page: Page) => page.getByRole('img', { name: /^Picture of Long strip/ })
const chosen = (page: Page) => page.getByRole('region', { name: 'The plant chosen' })

describe('the bed as it is, with no signal', () => {
  it('says how many plants are drawn, and lists each of them, season by season', async () => {
    const page = await openPicture({ touch: true })
    // All but the one that was removed, and two seedlings of which one is drawn at its plant's foot.
    const standing = lines * numbers - 1 + 2
    expect(await picture(page).getAttribute('aria-label')).toContain(`season ${farm.season}: ${standing} plants, 1 gone`)
    await expect.poll(() => page.getByRole('rowheader').count()).toBe(standing)
    const unplaced = page.locator('.picture-line', { hasText: 'Place not known' })
    expect(await unplaced.getByRole('rowheader').allTextContents()).toEqual([expect.stringContaining(known.unplaced)])

    const slider = page.getByRole('slider', { name: 'Season shown' })
    await slider.fill('0')
    expect(await slider.getAttribute('aria-valuetext')).toBe(String(farm.season - 2))
    expect(await picture(page).getAttribute('aria-label')).toContain(`season ${farm.season - 2}: ${lines * numbers} plants, 0 gone`)
    await expect.poll(() => page.getByRole('rowheader').count()).toBe(lines * numbers)
    await slider.press('ArrowRight')
    expect(await picture(page).getAttribute('aria-label')).toContain(`season ${farm.season - 1}: ${standing} plants, 1 gone`)
  })

  it('says of each plant what its mark says', async () => {
    const page = await openPicture()
    const row = (code: string) => page.getByRole('row').filter({ has: page.getByRole('button', { name: code, exact: true }) })
    expect(await row(known.mother).innerText()).toContain('Mother plant')
    expect(await row(known.off).innerText()).toContain('Colour off')
    expect(await row(known.leaning).innerText()).toContain('Leaning')
    expect(await row(known.sown).innerText()).toContain('self-sown')
    expect(await row(known.bare).getByRole('cell').last().innerText()).toBe('0')
    expect(await row(known.unrecorded).getByRole('cell').last().innerText()).toContain('not recorded')
    for (const said of ['mother plant', 'colour off', 'another flag', 'self-sown, no size', 'counted, no stem', 'stems not recorded', 'a plant stood here', 'colour not known']) {
      expect(await page.getByRole('region', { name: 'Key' }).innerText()).toContain(said)
    }
  })

  it('a tap on a head tells its plant, and leads to its page', async () => {
    const page = await openPicture({ touch: true })
    const box = await picture(page).boundingBox()
    if (!box) throw new Error('the picture is out of sight')
    await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height / 2)
    const code = await chosen(page).locator('.code').innerText()
    expect(code).toMatch(/^L[34]-[78]$/)
    expect(await chosen(page).innerText()).toMatch(new RegExp(`line ${code[1]}, ${code.slice(3)}`))
    expect(await page.getByRole('button', { name: code, exact: true, pressed: true }).count()).toBe(1)
    await chosen(page).getByRole('link', { name: new RegExp(`^Open plant ${code}`) }).click()
    await page.getByRole('heading', { name: code, exact: true }).waitFor()
  })

  it('a row marks its head, and a second press takes the mark off', async () => {
    const page = await openPicture()
    const before = await pixels(page)
    const button = page.getByRole('button', { name: known.mother, exact: true })
    await button.click()
    expect(await chosen(page).innerText()).toContain('Mother plant')
    await expect.poll(() => pixels(page)).not.toBe(before)
    await button.click()
    await expect.poll(() => pixels(page)).toBe(before)
  })

  it('keys, wheel, buttons and two taps zoom it, and 0 shows the whole again', async () => {
    const page = await openPicture({ size: laptopSize })
    const whole = await pixels(page)
    const drawnAnew = async (how: () => Promise<void>) => {
      const before = await pixels(page)
      await how()
      await expect.poll(() => pixels(page)).not.toBe(before)
    }
    const back = async () => {
      await picture(page).press('0')
      await expect.poll(() => pixels(page)).toBe(whole)
    }
    await drawnAnew(() => picture(page).press('+'))
    await drawnAnew(() => picture(page).press('ArrowRight'))
    await back()
    const box = await picture(page).boundingBox()
    if (!box) throw new Error('the picture is out of sight')
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2)
    await drawnAnew(() => page.mouse.wheel(0, -300))
    await back()
    await drawnAnew(() => page.getByRole('button', { name: 'Nearer' }).click())
    await page.getByRole('button', { name: 'The whole bed' }).click()
    await expect.poll(() => pixels(page)).toBe(whole)
    await drawnAnew(() => page.mouse.dblclick(box.x + box.width / 2, box.y + box.height / 2))
  })

  it('two fingers zoom it and one moves it, and the page stays where it is', async () => {
    const page = await openPicture({ touch: true })
    const session = await page.context().newCDPSession(page)
    const box = await picture(page).boundingBox()
    if (!box) throw new Error('the picture is out of sight')
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
    const touch = async (type: 'touchStart' | 'touchMove' | 'touchEnd', ...points: { x: number; y: number }[]) =>
      void (await session.send('Input.dispatchTouchEvent', { type, touchPoints: points.map((point, id) => ({ ...point, id })) }))
    const whole = await pixels(page)
    await touch('touchStart', { x, y: y - 20 }, { x, y: y + 20 })
    for (let step = 1; step <= 6; step++) await touch('touchMove', { x, y: y - 20 - 12 * step }, { x, y: y + 20 + 12 * step })
    await touch('touchEnd')
    await expect.poll(() => pixels(page)).not.toBe(whole)
    const near = await pixels(page)
    await touch('touchStart', { x, y })
    for (let step = 1; step <= 6; step++) await touch('touchMove', { x, y: y - 15 * step })
    await touch('touchEnd')
    await expect.poll(() => pixels(page)).not.toBe(near)
    expect(await page.evaluate(() => scrollY)).toBe(0)
    expect(await chosen(page).count()).toBe(0)
  })

  describe.each([
    ['light and dark', {}], ['light and dark, on a laptop', { size: laptopSize }], ['in Spanish', { locale: 'es-MX' }],
  ] as const)('%s', (_, options) => {
    it('axe-core finds nothing, and nothing is wider than the screen', async () => {
      const page = await openPictureIn(options)
      await page.getByRole('button', { name: known.mother, exact: true }).click()
      expect(await violationsInBothThemes(page)).toEqual([])
    })
  })

  async function openPictureIn(options: PhoneOptions): Promise<Page> {
    const { page, context } = await phones.add(options)
    await farm.admit(context)
    await page.goto(farm.shed.url)
    await page.getByRole('navigation').first().waitFor()
    await go(page, `beds/picture/${farm.bed}`)
    await expect.poll(() => page.getByRole('rowheader').count(), { timeout: 10_000 }).toBeGreaterThan(lines * numbers)
    return page
  }
})

describe('in measured colours, with no signal', () => {
  it('is drawn as its plants were measured, says who drifted and who was told by eye, and is remembered', async () => {
    const shed = await openShed('demo')
    try {
      const { page, context } = await phones.add()
      await page.goto(shed.url)
      await sayWho(page)
      await readyForField(page)
      await go(page, 'beds/colour') // the shed answers, and that is kept
      await page.locator('.colour-plane').waitFor()
      const drifted = (await page.locator('.colour-mark.drift title').first().textContent())?.split(':')[0] ?? ''
      const bed = await bedOf(page, drifted)
      await page.locator('.bed-list .rows a', { hasText: bed }).click()
      await context.setOffline(true)
      await page.locator('.picture-link').click()
      const drawn = page.getByRole('img', { name: /^Picture of/ })
      await drawn.waitFor()
      const byClass = await pixels(page)
      expect(await page.getByRole('region', { name: 'Key' }).innerText()).not.toContain('colour by eye')
      await page.getByRole('button', { name: 'As measured' }).click()
      await expect.poll(() => pixels(page)).not.toBe(byClass)
      expect(await drawn.getAttribute('aria-label')).toMatch(/Measured: \d+; by eye: \d+; not known: \d+\. Who drifted is from the last sync, today\./)
      const row = page.getByRole('row').filter({ has: page.getByRole('button', { name: drifted, exact: true }) })
      await expect.poll(() => row.innerText()).toMatch(/drifted.*L\*/s)
      for (const said of ['colour by eye', 'drifted']) await expect.poll(() => page.getByRole('region', { name: 'Key' }).innerText()).toContain(said)
      await expect.poll(() => page.getByRole('row').filter({ hasText: ', by eye' }).count()).toBeGreaterThan(5)
      expect(await violations(page)).toEqual([])
      await page.reload()
      await page.getByRole('button', { name: 'As measured', pressed: true }).waitFor()
      expect(await sheets(page)).toEqual(one)
    } finally {
      await shed.close()
    }
  })
})

/** The name of the bed that a plant stands in, by the plant's own page. */
async function bedOf(page: Page, code: string): Promise<string> {
  await page.locator('a[href*="plant/"]', { hasText: code }).first().click()
  const where = await page.locator('.plant-facts p.small').first().innerText()
  await go(page, 'beds')
  return where.split(' · ')[0] ?? ''
}

describe('on paper', () => {
  it.each(['light', 'dark'])('84 plants take one sheet, from the %s theme', async (theme) => {
    const page = await openPicture({ dark: theme === 'dark' })
    expect(await sheets(page)).toEqual(one)
    expect(await page.evaluate(() => document.documentElement.dataset['theme'])).toBe(theme)
  })

  it('2,000 plants take one sheet', async () => {
    const large = await openBedFarm({ lines: 5, numbers: 400, seed: 4 })
    try {
      const { page, context } = await phones.add()
      await large.admit(context)
      await page.goto(large.shed.url)
      await page.getByRole('navigation').first().waitFor({ timeout: 60_000 })
      await go(page, `beds/picture/${large.bed}`)
      await page.getByRole('img', { name: /2,001 plants/ }).waitFor()
      expect(await sheets(page)).toEqual(one)
    } finally {
      await large.close()
    }
  })
})

/** Pages of each paper, and whether heads are drawn on it: each look and size of them is an image of the file. */
async function sheets(page: Page): Promise<{ pages: number; drawn: boolean }[]> {
  const said = []
  for (const format of ['A4', 'Letter'] as const) {
    for (const preferCSSPageSize of [false, true]) {
      const pdf = (await page.pdf({ format, preferCSSPageSize })).toString('latin1')
      const pages = [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length
      said.push({ pages, drawn: [...pdf.matchAll(/\/Subtype\s*\/Image\b/g)].length > 20 })
    }
  }
  return said
}
const one = Array.from({ length: 4 }, () => ({ pages: 1, drawn: true }))

/** What is seen of the picture, to be compared with itself. */
function pixels(page: Page): Promise<string> {
  return page.locator('.picture-stage canvas').evaluate((canvas) => (canvas instanceof HTMLCanvasElement ? canvas.toDataURL() : ''))
}
