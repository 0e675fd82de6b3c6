// A phone-sized Chromium page with storage of its own.

import { rmSync } from 'node:fs'
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type LaunchOptions, type Page } from 'playwright-core'
import { scratchFolder } from './shed'

export interface Phone {
  readonly page: Page
  readonly context: BrowserContext
  close(): Promise<void>
}

/** A phone whose storage lies on disk and outlives a killed browser. */
export interface LastingPhone extends Phone {
  /** Ends the browser's processes at once and opens it again on the same storage. */
  killAndReopen(url: string): Promise<void>
}

export interface PhoneOptions {
  readonly size?: { readonly width: number; readonly height: number }
  readonly dark?: boolean
  readonly locale?: string
  readonly userAgent?: string
  /** Held in the hand: no mouse. */
  readonly touch?: boolean
}

export const phoneSize = { width: 360, height: 740 }
export const laptopSize = { width: 1280, height: 800 }

/** Opens phones that share one browser, each with storage of its own: quick, and gone with `close`. */
export class Phones {
  private readonly open: Phone[] = []
  private browser: Browser | undefined
  private readonly camera: string | undefined

  /** What the phones' cameras see, if they have one: a Y4M file, which is opened whenever a camera is. */
  constructor(camera?: string) {
    this.camera = camera
  }

  async add(options: PhoneOptions = {}): Promise<Phone> {
    this.browser ??= await chromium.launch(launching(this.camera))
    const context = await this.browser.newContext(looking(options))
    context.setDefaultTimeout(patience)
    const page = await context.newPage()
    const phone = { page, context, close: () => putAway(page, context) }
    this.open.push(phone)
    return phone
  }

  async addLasting(options: PhoneOptions = {}): Promise<LastingPhone> {
    const phone = await openLasting(options)
    this.open.push(phone)
    return phone
  }

  async close(): Promise<void> {
    for (const phone of this.open) await phone.close()
    await this.browser?.close()
  }
}

/**
 * Closes a phone, unless its test did: a request that a test answers by hand and that is still under way is nobody's
 * error then.
 */
async function putAway(page: Page, context: BrowserContext): Promise<void> {
  if (!page.isClosed()) {
    await page.unrouteAll({ behavior: 'ignoreErrors' })
    await context.unrouteAll({ behavior: 'ignoreErrors' })
  }
  await context.close()
}

/** Milliseconds for which anything is waited: a machine on which two sheds fit their models shows a first page late. */
const patience = 60_000

/** The browser as people have it, which alone knows a camera and the system's own authorities. */
export function wholeBrowser(): string {
  const path = process.env['CORYMB_CHROMIUM']
  if (path === undefined) {
    throw new Error('CORYMB_CHROMIUM names no browser: run the browser tests through go run ./webapp/check')
  }
  return path
}

/** How a browser is launched: with no camera the one without a window, where there is one, since it costs half. */
export function launching(camera?: string): LaunchOptions {
  const args = [
    '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
    '--disable-background-networking', '--disable-component-update', '--disable-sync',
  ]
  if (camera === undefined) return { executablePath: process.env['CORYMB_HEADLESS'] ?? wholeBrowser(), args }
  const seen = ['--use-fake-device-for-media-stream', `--use-file-for-fake-video-capture=${camera}`]
  return { executablePath: wholeBrowser(), args: [...args, ...seen] }
}

function looking({ size, dark, locale, userAgent, touch }: PhoneOptions): BrowserContextOptions {
  return {
    viewport: size ?? phoneSize,
    colorScheme: dark ? 'dark' : 'light',
    locale: locale ?? 'en-GB',
    reducedMotion: 'reduce',
    ...(userAgent !== undefined && { userAgent }),
    ...(touch === true && { hasTouch: true, isMobile: true }),
  }
}

async function openLasting(options: PhoneOptions): Promise<LastingPhone> {
  const storage = scratchFolder('phone')
  const launch = async () => {
    const opened = await chromium.launchPersistentContext(storage, { ...launching(), ...looking(options) })
    opened.setDefaultTimeout(patience)
    return opened
  }
  let context = await launch()
  let page = context.pages()[0] ?? (await context.newPage())
  return {
    get page() {
      return page
    },
    get context() {
      return context
    },
    async killAndReopen(url) {
      const session = await context.newCDPSession(page)
      await session.send('Browser.crash').catch(() => undefined) // it dies before it can answer
      await context.close().catch(() => undefined)
      context = await launch()
      page = context.pages()[0] ?? (await context.newPage())
      await page.goto(url)
    },
    async close() {
      await putAway(page, context)
      rmSync(storage, { recursive: true, force: true })
    },
  }
}

/** Has the pages that are opened from now on begin at a moment, in ms since 1970, from which their clock goes on. */
export function setClock(context: BrowserContext, moment: number): Promise<unknown> {
  return context.addInitScript((begin) => {
    const Real = Date
    const late = Real.now() - begin
    globalThis.Date = new Proxy(Real, {
      construct: (target, told: [] | [number]) => (told.length === 0 ? new target(Real.now() - late) : new target(...told)),
      get: (target, name) => (name === 'now' ? () => Real.now() - late : Reflect.get(target, name)),
    })
  }, moment)
}
