// A photo of 12 megapixels measured in the worker, as a file that somebody chooses: how long it takes, and of its
// worker's processor, beside the bare opening of the same file in the same run; the longest time the page could not draw
// meanwhile, beside a page that does nothing; and the memory of the page's process. Run by npm run --prefix webapp figures.

import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { chromium } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { photoOf, sceneOf } from './colour_card'
import { launching, phoneSize } from './phone'
import { openPlant } from './plants'
import { openShed, type Shed } from './shed'
import { sayWho } from './walk'

const runs = 9
const input = '.measure-foot input:not([capture])'

let shed: Shed
let browser: Browser
let page: Page
let jpeg: Buffer

beforeAll(async () => {
  jpeg = (await photoOf(await sceneOf(1, 'plain', { width: 4000, height: 3000 }))).buffer
  shed = await openShed('demo')
  browser = await chromium.launch(launching())
  page = await (await browser.newContext({ viewport: phoneSize, locale: 'en-GB' })).newPage()
  await page.goto(shed.url)
  await sayWho(page)
}, 180_000)

afterAll(async () => {
  await browser.close()
  await shed.close()
})

interface Run {
  /** Milliseconds from the choice to the opened picture, to the measured one, and the longest between two frames. */
  readonly opened: number
  readonly measured: number
  readonly longest: number
}

/** Chooses the file and waits for what is measured, on the page's own clock. */
async function measuredOnce(): Promise<Run> {
  await page.locator(input).waitFor({ state: 'attached' })
  await page.evaluate(() => {
    const told = { chosen: 0, opened: 0, measured: 0, longest: 0 }
    Object.assign(window, { told })
    let last = 0
    const draw = (now: number) => {
      if (last > 0) told.longest = Math.max(told.longest, now - last)
      last = now
      if (told.measured === 0) requestAnimationFrame(draw)
    }
    // Not before it is chosen: handing the file to the page is the test's work, and stops it for longer than anything else.
    document.addEventListener('change', () => {
      told.chosen = performance.now()
      requestAnimationFrame(draw)
    }, { capture: true, once: true })
    new MutationObserver((_, watching) => {
      if (document.querySelector('.measure-busy')?.textContent?.includes('Measuring')) told.opened ||= performance.now()
      if (!document.querySelector('.measure-result')) return
      told.measured = performance.now()
      watching.disconnect()
    }).observe(document.body, { subtree: true, childList: true, characterData: true })
  })
  await page.locator(input).setInputFiles({ name: 'head.jpg', mimeType: 'image/jpeg', buffer: jpeg })
  await page.locator('.measure-result').waitFor({ timeout: 120_000 })
  const { chosen, opened, measured, longest } = await page.evaluate(() => (window as unknown as { told: Record<'chosen' | 'opened' | 'measured' | 'longest', number> }).told)
  await page.getByRole('button', { name: 'Take again' }).click()
  return { opened: opened - chosen, measured: measured - chosen, longest }
}

/** What the browser takes to open the file and draw it, and no more; on the page's thread. */
async function bareDecode(): Promise<number> {
  return page.evaluate(async (base64) => {
    const bytes = Uint8Array.from(atob(base64), (one) => one.charCodeAt(0))
    const from = performance.now()
    const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }), { imageOrientation: 'from-image', colorSpaceConversion: 'none' })
    const paper = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d', { willReadFrequently: true })!
    paper.drawImage(bitmap, 0, 0)
    paper.getImageData(0, 0, bitmap.width, bitmap.height)
    bitmap.close()
    return performance.now() - from
  }, jpeg.toString('base64'))
}

/** The longest time between two frames while nothing is asked for, for as long as a photo is measured. */
async function bareLongest(): Promise<number> {
  return page.evaluate(() => new Promise<number>((resolve) => {
    const from = performance.now()
    let [last, longest] = [0, 0]
    const draw = (now: number) => {
      if (last > 0) longest = Math.max(longest, now - last)
      last = now
      if (now - from < 500) requestAnimationFrame(draw)
      else resolve(longest)
    }
    requestAnimationFrame(draw)
  }))
}

/** Milliseconds of a processor that the page's worker has used, which no other work makes more: the 14th and 15th number (proc(5)), in hundredths of a second. */
function workerTime(pid: number): number {
  const threads = readdirSync(`/proc/${pid}/task`).map((thread) => readFileSync(`/proc/${pid}/task/${thread}/stat`, 'utf8'))
  const [, numbers] = threads.find((told) => told.includes('(DedicatedWorker'))?.split(') ') ?? []
  if (numbers === undefined) throw new Error('looking for the worker that measures: the page has none')
  return 10 * (Number(numbers.split(' ')[11]) + Number(numbers.split(' ')[12]))
}

/** The process of the page: Linux tells how much it holds and held at most since that was reset (proc(5)). */
async function pageProcess(): Promise<number> {
  const session = await browser.newBrowserCDPSession()
  const { processInfo } = await session.send('SystemInfo.getProcessInfo')
  const held = processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => ({ id, mb: megabytes(id, 'VmRSS') }))
  return held.sort((a, b) => b.mb - a.mb)[0]!.id
}

function megabytes(pid: number, field: 'VmRSS' | 'VmHWM'): number {
  return Number(new RegExp(`${field}:\\s+(\\d+) kB`).exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024
}

const median = (values: readonly number[]) => values.toSorted((a, b) => a - b)[values.length >> 1]!

it('measures a photo of 12 megapixels in the worker', async () => {
  await openPlant(page, 'Gate', 3)
  await page.getByRole('link', { name: 'Measure its colour' }).click()
  await measuredOnce() // the wasm is compiled and the code is warm
  const pid = await pageProcess()
  // Before the bare opening leaves pictures of its own in the same process.
  await (await page.context().newCDPSession(page)).send('HeapProfiler.collectGarbage')
  const before = megabytes(pid, 'VmRSS')
  writeFileSync(`/proc/${pid}/clear_refs`, '5')
  await measuredOnce()
  const most = megabytes(pid, 'VmHWM')
  const [taken, bare, still]: [Run[], number[], number[]] = [[], [], []]
  let processor = 0
  for (let i = 0; i < runs; i++) {
    bare.push(await bareDecode())
    still.push(await bareLongest())
    const from = workerTime(pid)
    taken.push(await measuredOnce())
    processor += workerTime(pid) - from
  }
  const [whole, opened, decode] = [median(taken.map(({ measured }) => measured)), median(taken.map((run) => run.opened)), median(bare)]
  console.log(
    `12 megapixels, ${(jpeg.length / 2 ** 20).toFixed(1)} MB, medians of ${runs}: measured in ${whole.toFixed(0)} ms, of which ${opened.toFixed(0)} ms to open it, ${(processor / runs).toFixed(0)} ms of a processor in the worker, its reading of tags with it; `
    + `bare opening in the same run ${decode.toFixed(0)} ms, ratio ${(whole / decode).toFixed(2)}; quickest ${Math.min(...taken.map(({ measured }) => measured)).toFixed(0)} and ${Math.min(...bare).toFixed(0)} ms; `
    + `longest time between frames ${Math.max(...taken.map(({ longest }) => longest)).toFixed(0)} ms, median ${median(taken.map(({ longest }) => longest)).toFixed(0)} ms, of a page that does nothing ${Math.max(...still).toFixed(0)} and ${median(still).toFixed(0)} ms; `
    + `the page's process holds ${before.toFixed(0)} MB before one more, ${most.toFixed(0)} MB at most`,
  )
  expect(whole).toBeGreaterThan(0)
}, 600_000)
