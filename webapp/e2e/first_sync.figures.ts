// The first sync of a large farm on a slow phone: 2,000 plants and some 100,000 changes read from the
// shed under 4x CPU throttling. Prints how long it takes until the farm is there, how much memory the
// page holds then, and the longest time it could not draw. Run by npm run --prefix webapp figures.

import { execFileSync } from 'node:child_process'
import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type LastingPhone, Phones } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'

const plants = 2_000
/** A row is a count of one grade and length at one plant on one day; a visit comes with each. */
const cuts = 18_500

let shed: Shed
let changes = ''
let phone: LastingPhone
const phones = new Phones()
const data = scratchFolder('large')

beforeAll(async () => {
  const files = writeFarm()
  const tables = ['-plants', files.plants, '-cuts', files.cuts]
  const said = execFileSync(process.env['CORYMB_BINARY']!, ['import', ...tables, '-data', data], { encoding: 'utf8' })
  changes = /(\d+) changes were new/.exec(said)![1]!
  shed = await openShed('serve', { data })
  phone = await phones.addLasting()
  await phone.context.request.post(`${shed.url}/api/join`, { data: { code: shed.firstCode, device: crypto.randomUUID(), label: 'test' } })
}, 180_000)

afterAll(async () => {
  await phones.close()
  await shed.close()
  rmSync(data, { recursive: true, force: true })
})

/** One bed of plants in their first season, each cut now and then through two months. */
function writeFarm(): { plants: string; cuts: string } {
  const [grades, lengths] = [['extra', 'first', 'second'], [40, 50, 60]]
  const plantRows = ['plant,stock,bed,planted,first_season,counted_from,counted_to']
  for (let p = 0; p < plants; p++) plantRows.push(`P-${p},Lantern mix,long strip,2023-09-20,2024,2024-04-01,2024-12-31`)
  const cutRows = ['date,plant,stock,bed,planted,age,flush,grade,length_cm,stems,grader']
  for (let c = 0; c < cuts; c++) {
    const date = `2024-0${5 + (Math.floor(c / plants) % 2)}-${String(1 + ((c * 7 + Math.floor(c / plants)) % 28)).padStart(2, '0')}`
    cutRows.push(`${date},P-${c % plants},Lantern mix,long strip,2023-09-20,1,spring,${grades[c % 3]},${lengths[(c >> 2) % 3]},${1 + (c % 9)},Maren`)
  }
  const files = { plants: join(data, 'plants.csv'), cuts: join(data, 'cuts.csv') }
  writeFileSync(files.plants, plantRows.join('\n'))
  writeFileSync(files.cuts, cutRows.join('\n'))
  return files
}

it('reads a large farm for the first time under 4x throttling', async () => {
  const { page, context } = phone
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: 4 })
  await page.addInitScript(() => {
    let last = performance.now()
    window.longestFrame = 0
    const draw = (now: number) => {
      window.longestFrame = Math.max(window.longestFrame, now - last)
      last = now
      requestAnimationFrame(draw)
    }
    requestAnimationFrame(draw)
  })
  const begun = Date.now()
  await page.goto(`${shed.url}/#/shed`)
  // The places are shown once the farm is there.
  await page.getByRole('navigation').first().waitFor({ timeout: 170_000 })
  const seconds = (Date.now() - begun) / 1000
  const longest = await page.evaluate(() => window.longestFrame)
  await session.send('HeapProfiler.collectGarbage')
  const { metrics } = (await session.send('Performance.enable').then(() => session.send('Performance.getMetrics')))
  const heap = metrics.find(({ name }) => name === 'JSHeapUsedSize')?.value ?? Number.NaN
  const stored = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? Number.NaN)
  console.log(
    `first sync of ${changes} changes: ${seconds.toFixed(1)} s, longest blocked frame ${longest.toFixed(0)} ms, `
    + `heap ${(heap / 2 ** 20).toFixed(0)} MB, storage ${(stored / 2 ** 20).toFixed(1)} MB`,
  )
  expect(longest).toBeGreaterThan(0)
}, 180_000)

declare global {
  interface Window {
    longestFrame: number
  }
}
