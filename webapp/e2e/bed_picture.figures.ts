// How smoothly a bed of 2,000 plants moves on a slow phone: the time between frames while its picture is
// dragged and zoomed under 4x CPU throttling at two dots to a pixel, beside a bare requestAnimationFrame loop
// in the same run, one before each of them. Beside the time between frames, which other work on the machine
// lengthens too, stands how long the page's main thread worked for each. Prints its figures; run by
// npm run --prefix webapp figures.

import type { CDPSession, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type BedFarm, openBedFarm } from './bed_farm'
import { type Phone, Phones, phoneSize } from './phone'
import { go } from './walk'

let farm: BedFarm
let phone: Phone
const phones = new Phones()

beforeAll(async () => {
  farm = await openBedFarm({ lines: 5, numbers: 400, seed: 4, measured: true })
  phone = await phones.add()
  await farm.admit(phone.context)
}, 240_000)

afterAll(async () => {
  await phones.close()
  await farm.close()
})

it.each(['By class', 'As measured'])('moves 2,000 plants under 4x throttling, %s', async (colours) => {
  const { page, context } = phone
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setDeviceMetricsOverride', { ...phoneSize, deviceScaleFactor: 2, mobile: false })
  await page.goto(farm.shed.url)
  await page.getByRole('navigation').first().waitFor({ timeout: 60_000 })
  await go(page, `beds/picture/${farm.bed}`)
  await page.getByRole('button', { name: colours }).click({ timeout: 60_000 })
  await go(page, 'beds')
  await session.send('Emulation.setCPUThrottlingRate', { rate: 4 })
  const opened = Date.now()
  await go(page, `beds/picture/${farm.bed}`)
  const canvas = page.getByRole('img', { name: /2,001 plants/ })
  await canvas.waitFor()
  await page.evaluate(() => new Promise(requestAnimationFrame))
  const opening = Date.now() - opened
  await page.waitForTimeout(3_000) // the list below is laid out too

  await session.send('Performance.enable', { timeDomain: 'threadTicks' })
  const box = await canvas.boundingBox()
  if (!box) throw new Error('the picture is out of sight')
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 }
  const figures = [`${colours}: opened in ${opening} ms`]
  const note = async (what: string, doing: () => Promise<void>) => {
    const bare = await framesWhile(page, session, () => page.waitForTimeout(1_500))
    const measured = await framesWhile(page, session, doing)
    expect(measured.frames.length).toBeGreaterThan(20)
    figures.push(`${what}: ${summary(measured)}`, `    bare loop before it: ${summary(bare)}`)
  }
  await note('zooming in from the whole bed', () => wheel(session, middle, -40, 40))
  await page.waitForTimeout(500)
  await note('zooming out to the whole bed', () => wheel(session, middle, 40, 50))
  await page.waitForTimeout(500)
  await note('zooming again', () => wheel(session, middle, -40, 12))
  await page.waitForTimeout(500)
  await note('dragging with half of the bed in sight', () => drag(session, middle))
  await wheel(session, middle, -40, 30)
  await page.waitForTimeout(500)
  await note('dragging near', () => drag(session, middle))
  const slider = page.getByRole('slider')
  await slider.focus()
  await note('sliding through the seasons', async () => {
    for (let i = 0; i < 12; i++) {
      await page.keyboard.press(i % 4 < 2 ? 'ArrowLeft' : 'ArrowRight')
      await page.waitForTimeout(120)
    }
  })
  console.log(figures.join('\n'))
}, 240_000)

interface Measured {
  /** Times between the frames that the page drew, in ms. */
  readonly frames: readonly number[]
  /** How long its main thread worked, in ms of a processor's time. */
  readonly worked: number
}

async function framesWhile(page: Page, session: CDPSession, doing: () => Promise<void>): Promise<Measured> {
  await page.evaluate(() => {
    window.frameTimes = []
    window.watching = true
    let last = performance.now()
    const next = (now: number) => {
      window.frameTimes.push(now - last)
      last = now
      if (window.watching) requestAnimationFrame(next)
    }
    requestAnimationFrame((now) => {
      last = now
      requestAnimationFrame(next)
    })
  })
  const before = await worked(session)
  await doing()
  const after = await worked(session)
  const frames = await page.evaluate(() => {
    window.watching = false
    return window.frameTimes
  })
  return { frames, worked: after - before }
}

async function worked(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics')
  return (metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN) * 1_000
}

function summary({ frames, worked: ms }: Measured): string {
  const sorted = frames.toSorted((a, b) => a - b)
  const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))]?.toFixed(1)
  return `median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms, longest ${at(1)} ms, of ${frames.length} frames; ${(ms / frames.length).toFixed(1)} ms of work a frame`
}

async function wheel(session: CDPSession, { x, y }: { x: number; y: number }, deltaY: number, turns: number): Promise<void> {
  for (let turn = 0; turn < turns; turn++) {
    await session.send('Input.dispatchMouseEvent', { type: 'mouseWheel', x, y, deltaX: 0, deltaY })
    await pause()
  }
}

/** In circles, so that it never comes to rest at an edge for long. */
async function drag(session: CDPSession, { x, y }: { x: number; y: number }): Promise<void> {
  const at = (turn: number) => ({ x: x + 110 * Math.sin(turn / 9), y: y + 110 * Math.sin(turn / 13) })
  await session.send('Input.dispatchMouseEvent', { type: 'mousePressed', button: 'left', clickCount: 1, ...at(0) })
  for (let turn = 0; turn < 160; turn++) {
    await session.send('Input.dispatchMouseEvent', { type: 'mouseMoved', button: 'left', buttons: 1, ...at(turn) })
    await pause()
  }
  await session.send('Input.dispatchMouseEvent', { type: 'mouseReleased', button: 'left', clickCount: 1, ...at(160) })
}

function pause(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 16))
}

declare global {
  interface Window {
    frameTimes: number[]
    watching: boolean
  }
}
