// How quickly each screen of selling opens on a farm that sold 20,000 bunches to 300 buyers within a year: from the tap to
// the second frame with the page's heading, at full speed and under 4x CPU throttling. Run by npm run --prefix webapp
// figures -- e2e/sales_year.figures.ts.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { dayOf } from '../src/crop/day'
import type { FarmID, PersonID } from '../src/crop/nouns'
import { joinMany } from './joining'
import { laptopSize, Phones, phoneSize } from './phone'
import { sold } from './sales_farm'
import { openShed, type Shed } from './shed'
import { admit, write } from './writer'

const screens = ['shed', 'shed/orders', 'shed/orders/new', 'shed/orders/new/buyer7', 'shed/orders/standing', 'shed/orders/buyers', 'shed/orders/buyers/buyer7', 'shed/orders/prices', 'shed/packing', 'shed/cooler', 'shed/claims', 'shed/papers', 'shed/availability', 'row/cuts'] as const

let shed: Shed
let reader = ''
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('serve')
  const [writer, other] = await joinMany(shed, 2)
  reader = other!
  const { farm, person } = (await (await fetch(`${shed.url}/api/me`, { headers: { cookie: reader } })).json()) as { farm: FarmID; person: PersonID }
  const { facts, bunches } = sold(farm, person, dayOf(new Date()))
  console.log(`${facts.length} changes, ${bunches} bunches`)
  expect(bunches).toBeGreaterThan(18_000)
  await write(shed, farm, writer!, facts)
}, 600_000)

afterAll(async () => {
  await phones.close()
  await shed.close()
})

it.each([['a phone', phoneSize, 1], ['a phone under 4x throttling', phoneSize, 4], ['a laptop', laptopSize, 1]] as const)('screens open on %s', async (name, size, slower) => {
  const { page, context } = await phones.add({ size })
  await admit(context, shed, reader)
  await page.goto(`${shed.url}/#/beds`)
  await page.getByRole('navigation').first().waitFor({ timeout: 170_000 })
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: slower })
  for (const screen of screens) {
    const times: number[] = []
    for (let round = 0; round < 5; round++) times.push(await opened(page, screen))
    times.sort((a, b) => a - b)
    console.log(`${name}: ${screen} median ${times[2]!.toFixed(0)} ms, slowest of five ${times[4]!.toFixed(0)}`)
  }
  await context.close()
}, 600_000)

/** Milliseconds from another page to this one's second frame. */
async function opened(page: Page, screen: string): Promise<number> {
  await page.evaluate(() => { location.hash = '#/beds' })
  await page.locator('.bed-list, h1').first().waitFor()
  await page.waitForTimeout(300)
  return page.evaluate(async (hash) => {
    const before = document.querySelector('h1')?.textContent
    const begun = performance.now()
    location.hash = hash
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve))
    // While the code of a page is fetched there is no heading.
    while ([undefined, before].includes(document.querySelector('h1')?.textContent ?? undefined)) await frame()
    await frame()
    await frame()
    return performance.now() - begun
  }, `#/${screen}`)
}
