// A day packed by two phones that do not see each other: planned while the shed is there, packed offline, and after they
// met again the numbers agree.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openPackingFarm, type PackingFarm } from './packing_farm'
import { laptopSize, Phones } from './phone'
import { everythingSent, go } from './walk'

let farm: PackingFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openPackingFarm()
})

afterAll(async () => {
  await phones.close()
  await farm.close()
})

/** The studio's line of damson: others may be made of damson too. */
const damson = /^Studio, weekly\s*damson/
const lineOf = (page: Page, words: string | RegExp) => page.locator('.pack-line', { hasText: words })
const counted = (page: Page, words: string | RegExp) => lineOf(page, words).locator('.pack-count b').innerText()

async function planned(as: 'owner' | 'crew', size?: { width: number; height: number }): Promise<Page> {
  const { page, context } = await phones.add({ touch: size === undefined, ...(size && { size }) })
  await farm.admit(context, as)
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor()
  await page.evaluate(() => navigator.serviceWorker.ready)
  await go(page, 'shed/packing')
  await page.locator('.packing > .say b').waitFor()
  return page
}

it('is planned, packed by two who do not see each other, and agrees once they do', async () => {
  const owner = await planned('owner', laptopSize)
  expect(await owner.locator('.packing > .say').innerText()).toBe('178 of 214 stems placed; nothing places them for more.')
  await owner.getByText('Studio, weekly is one bunch short for want of 6 stems (damson, first, 50+ cm). Ask them: ember would fill it.').waitFor()
  await owner.getByText('It brings €112.34 once channels have kept their part.').waitFor()

  const crew = await planned('crew')
  expect(await crew.locator('.packing > .say').innerText()).toBe('178 of 214 stems placed; nothing places them for more.')
  expect(await crew.locator('.packing').innerText()).not.toMatch(/€|112|14\.50/)
  expect(await farm.ask('crew', `/api/packing?day=${farm.today}`)).not.toMatch(/money|revenue|11234|1450/)

  // Pinned: the shed plans anew around it.
  await owner.getByRole('button', { name: /^Flower co-op/ }).click()
  await owner.getByRole('button', { name: 'One bunch less' }).click()
  await owner.getByText('Flower co-op is one bunch short of its order, as you pinned it.').waitFor()
  await owner.getByRole('button', { name: 'Let the plan decide' }).click()
  await expect.poll(() => owner.locator('.packing > .say').innerText()).toBe('178 of 214 stems placed; nothing places them for more.')

  // The pick list is shown on the screen in a way of its own, and printed as a paper.
  await go(owner, `shed/packing/${farm.today}/pick`)
  await owner.locator('.pack-tap').first().waitFor()
  await owner.emulateMedia({ media: 'print' })
  const paper = owner.locator('.paper-print')
  expect(await paper.innerText()).toContain('178 stems')
  expect(await paper.locator('table').evaluate((table) => table.getBoundingClientRect().height)).toBeGreaterThan(100)
  expect(await paper.evaluate((element) => getComputedStyle(element).opacity)).toBe('1')
  await owner.emulateMedia({ media: null })
  await go(owner, `shed/packing/${farm.today}`)

  for (const page of [owner, crew]) {
    await page.locator('.packing-act a', { hasText: 'Start packing' }).click()
    await lineOf(page, 'Wedding').waitFor()
    await page.context().setOffline(true)
  }
  await farm.shed.kill()

  // Taps quickly one after another, each of which is stored before it shows.
  for (let i = 0; i < 3; i++) await lineOf(crew, 'Wedding').locator('.pack-tap').tap()
  await expect.poll(() => counted(crew, 'Wedding')).toBe('3 of 3')
  await lineOf(crew, damson).locator('.pack-tap').tap()
  await expect.poll(() => counted(crew, damson)).toBe('1 of 3')
  for (let i = 0; i < 2; i++) await lineOf(owner, damson).locator('.pack-tap').click()
  await expect.poll(() => counted(owner, damson)).toBe('2 of 3')
  await lineOf(owner, 'Flower co-op').locator('.pack-tap').click()
  await expect.poll(() => counted(owner, 'Flower co-op')).toBe('1 of 6')
  await owner.getByRole('button', { name: 'Take back' }).click()
  await expect.poll(() => counted(owner, 'Flower co-op')).toBe('0 of 6')

  // Closed and opened with no signal: everything stands, and the last bunch can still be taken back.
  await crew.reload()
  await lineOf(crew, damson).waitFor()
  expect([await counted(crew, 'Wedding'), await counted(crew, damson)]).toEqual(['3 of 3', '1 of 3'])
  await crew.getByRole('button', { name: 'Take back' }).tap()
  await expect.poll(() => counted(crew, damson)).toBe('0 of 3')
  await lineOf(crew, damson).locator('.pack-tap').tap()
  await expect.poll(() => counted(crew, damson)).toBe('1 of 3')

  // The plan is still there to be read, with its age.
  await go(crew, 'shed/packing')
  await crew.locator('.whence', { hasText: /^planned / }).waitFor()
  await crew.getByText(/^4 bunches were packed since the plan/).waitFor()
  await go(crew, `shed/packing/${farm.today}/pack`)

  await farm.shed.start()
  for (const page of [owner, crew]) await page.context().setOffline(false)
  for (const page of [owner, crew]) {
    await everythingSent(page)
    await expect.poll(() => counted(page, damson), { timeout: 60_000 }).toBe('3 of 3')
    await expect.poll(() => counted(page, 'Wedding'), { timeout: 60_000 }).toBe('3 of 3')
  }

  // Three bunches of damson of twenty-four stems: six more than there were.
  await go(owner, 'shed')
  await owner.getByText(/^6 stems more of damson, first, 50 cm.* were taken out than came: 24 came over the bench, 30 were packed/).waitFor()
  const plan = JSON.parse(await farm.ask('owner', `/api/packing?day=${farm.today}`)) as { lines: { line: string; packed: number; had: { stems: number }[] }[] }
  const packed = new Map(plan.lines.map(({ line, packed: bunches, had }) => [line, [bunches, had.reduce((sum, { stems }) => sum + stems, 0)]]))
  expect(packed.get('studio-damson')).toEqual([3, 30])
  expect(packed.get('wedding-ember')).toEqual([3, 30])
  expect(packed.get('coop-oyster')).toEqual([0, 0])
})
