// How long a tap takes to be stored on a slow phone, beside a bare IndexedDB commit in the same run:
// 200 taps at 5 a second under 6x CPU throttling, and none may be lost. Prints its figures; run by
// npm run --prefix webapp figures.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type LastingPhone, Phones } from './phone'
import { openShed, type Shed } from './shed'
import { openWalk, sayWho } from './walk'

const taps = 200
const between = 200

let shed: Shed
let phone: LastingPhone
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
  phone = await phones.addLasting()
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

it(`stores ${taps} taps at 5 a second under 6x throttling, and loses none`, async () => {
  const { page, context } = phone
  await page.goto(shed.url)
  await sayWho(page)
  await openWalk(page)
  await page.getByRole('button', { name: 'Count by grade and length' }).click()
  const cell = page.getByRole('button', { name: /^first, 50 to 60 centimetres/ })
  const box = await cell.boundingBox()
  if (!box) throw new Error('the cell is out of sight')
  await watch(page)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: 6 })
  for (let tap = 0; tap < taps; tap++) {
    const next = Date.now() + between
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2)
    await new Promise((resolve) => setTimeout(resolve, between / 2))
    await page.evaluate(() => window.bareCommit())
    await new Promise((resolve) => setTimeout(resolve, Math.max(0, next - Date.now())))
  }
  await session.send('Emulation.setCPUThrottlingRate', { rate: 1 })
  await expect.poll(async () => Number(await cell.innerText()), { timeout: 20_000 }).toBe(taps)
  const { stored, bare } = await page.evaluate(() => window.measured)
  expect(stored).toHaveLength(taps)
  console.log(`tap to stored: ${summary(stored)}; bare commit: ${summary(bare)}`)
}, 240_000)

function summary(times: readonly number[]): string {
  const sorted = times.toSorted((a, b) => a - b)
  const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))]?.toFixed(0)
  return `median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms`
}

/** Times each tap from its event to the moment the cell shows it, and gives a bare commit to time. */
async function watch(page: Page): Promise<void> {
  await page.evaluate(async () => {
    const waiting: number[] = []
    window.measured = { stored: [], bare: [] }
    const cell = document.querySelector('[aria-label^="first, 50 to 60"]')
    if (!cell) throw new Error('no cell')
    let shown = Number(cell.textContent)
    cell.addEventListener('click', (event) => waiting.push(event.timeStamp), { capture: true })
    new MutationObserver(() => {
      for (; shown < Number(cell.textContent); shown++) {
        window.measured.stored.push(performance.now() - (waiting.shift() ?? Number.NaN))
      }
    }).observe(cell, { characterData: true, childList: true, subtree: true })
    const db = await new Promise<IDBDatabase>((resolve, reject) => {
      const asked = indexedDB.open('bare', 1)
      asked.onupgradeneeded = () => asked.result.createObjectStore('rows', { autoIncrement: true })
      asked.onsuccess = () => resolve(asked.result)
      asked.onerror = () => reject(asked.error)
    })
    window.bareCommit = () => new Promise((resolve) => {
      const start = performance.now()
      const transaction = db.transaction('rows', 'readwrite', { durability: 'strict' })
      transaction.objectStore('rows').put({ stems: 1, at: start })
      transaction.oncomplete = () => {
        window.measured.bare.push(performance.now() - start)
        resolve()
      }
    })
  })
}

declare global {
  interface Window {
    measured: { stored: number[]; bare: number[] }
    bareCommit: () => Promise<void>
  }
}
