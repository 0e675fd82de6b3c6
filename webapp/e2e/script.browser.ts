// Markup in every text that people can write, shown on every page: it stays text.

import { execFileSync } from 'node:child_process'
import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { drawn } from './accessible'
import { invite, joinBy } from './joining'
import { Phones } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { go } from './walk'

/** Short enough for every field, and without a comma, which parts the columns of a file. */
const markup = (n: number) => `<img src=x onerror=alert(${n})>`

let shed: Shed
const data = scratchFolder('script')
const phones = new Phones()

beforeAll(async () => {
  // Of this season, so that there is something to count.
  const today = new Date().toISOString().slice(0, 10)
  const year = Number(today.slice(0, 4))
  const planted = `${year - 1}-09-20`
  const [plants, cuts] = [join(data, 'plants.csv'), join(data, 'cuts.csv')]
  writeFileSync(plants, [
    'plant,stock,bed,planted,first_season,counted_from,counted_to,colour',
    `${markup(1)},${markup(2)},${markup(3)},${planted},${year},${year}-01-01,${year}-12-31,${markup(4)}`,
    `second,${markup(2)},${markup(3)},${planted},${year},${year}-01-01,${year}-12-31,${markup(4)}`,
  ].join('\n'))
  writeFileSync(cuts, [
    'date,plant,stock,bed,planted,age,flush,grade,length_cm,stems,grader',
    `${today},${markup(1)},${markup(2)},${markup(3)},${planted},1,spring,extra,50,7,${markup(5)}`,
    `${today},second,${markup(2)},${markup(3)},${planted},1,spring,first,60,4,${markup(5)}`,
  ].join('\n'))
  execFileSync(process.env['CORYMB_BINARY']!, ['import', '-plants', plants, '-cuts', cuts, '-data', data])
  shed = await openShed('serve', { data })
})

afterAll(async () => {
  await phones.close()
  await shed.close()
  rmSync(data, { recursive: true, force: true })
})

/** What a page made of the markup: elements, or what its policy had to stop. */
async function became(page: Page): Promise<string[]> {
  return await page.evaluate(() => [
    ...[...document.querySelectorAll('img[src=x], script:not([src])')].map(({ outerHTML }) => outerHTML),
    ...window.stopped,
  ])
}

async function pageThatListens(): Promise<Page> {
  const { page } = await phones.add()
  page.on('dialog', (dialog) => void dialog.accept())
  await page.addInitScript(() => {
    window.stopped = []
    document.addEventListener('securitypolicyviolation', ({ violatedDirective }) => window.stopped.push(violatedDirective))
  })
  return page
}

it('no text that somebody wrote becomes markup on any page', async () => {
  const page = await pageThatListens()
  await page.goto(`${shed.url}/#join/${shed.firstCode}`)
  await page.getByRole('textbox', { name: 'What this device is called' }).fill(markup(6))
  await page.getByRole('button', { name: 'Join', exact: true }).click()
  await page.getByRole('heading', { name: 'Welcome to Corymb' }).waitFor()
  await nameYourself(page)
  const cookie = (await page.context().cookies()).map(({ name, value }) => `${name}=${value}`).join('; ')
  await joinBy(shed, await invite(shed, cookie, crypto.randomUUID(), 'crew', markup(9)))

  const seen: string[] = []
  const look = async (where: string) => {
    await drawn(page)
    await page.waitForTimeout(300) // what comes from the notebook and the shed
    const text = await page.locator('body').innerText()
    if (text.includes('onerror=alert(')) seen.push(where)
    expect([where, ...(await became(page))]).toEqual([where])
  }
  for (const place of ['row', 'row/care', 'shed', 'shed/settings', 'shed/devices', 'shed/about', 'beds', 'beds/stocks', 'beds/tray', 'beds/ages']) {
    await go(page, place)
    await look(place)
  }
  await go(page, 'beds')
  await page.getByRole('link', { name: /onerror=alert\(3\)/ }).click()
  await look('a bed')
  await page.getByRole('link', { name: /onerror=alert\(1\)/ }).first().click()
  await look('a plant')
  await go(page, 'row')
  await page.getByRole('button', { name: /onerror=alert\(3\)/ }).click()
  await look('the walk')
  await go(page, 'row/plants')
  await look('the list of a walk')
  await page.goto(`${shed.url}/#/join`)
  await page.reload()
  await page.getByRole('textbox', { name: 'Code of the invitation' }).waitFor()
  await look('joining again')
  // Where the texts are not shown, nothing was proved.
  expect(seen).toEqual(['row', 'shed', 'shed/settings', 'shed/devices', 'beds', 'beds/stocks', 'beds/tray', 'a bed', 'a plant', 'the walk', 'the list of a walk', 'joining again'])
})

/** The first owner's own name and the farm's. */
async function nameYourself(page: Page): Promise<void> {
  const fields = page.getByRole('textbox')
  await fields.first().waitFor()
  for (const [i, field] of (await fields.all()).entries()) await field.fill(markup(7 + i))
  await page.locator('main button.main').click()
  await page.getByRole('navigation').first().waitFor()
}

declare global {
  interface Window {
    stopped: string[]
  }
}
