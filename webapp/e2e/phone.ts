// A phone-sized Chromium with storage of its own, which outlives a killed browser.

import { rmSync } from 'node:fs'
import { type BrowserContext, chromium, type Page } from 'playwright-core'
import { scratchFolder } from './shed'

export interface Phone {
  readonly page: Page
  readonly context: BrowserContext
  /** Ends the browser's processes at once and opens it again on the same storage. */
  killAndReopen(url: string): Promise<void>
  close(): Promise<void>
}

export interface PhoneOptions {
  readonly size?: { readonly width: number; readonly height: number }
  readonly dark?: boolean
  readonly locale?: string
  /** Offline from the first moment on. */
  readonly offline?: boolean
}

export const phoneSize = { width: 360, height: 740 }
export const laptopSize = { width: 1280, height: 800 }

const flags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

export async function openPhone(options: PhoneOptions = {}): Promise<Phone> {
  const executablePath = process.env['CORYMB_CHROMIUM']
  if (executablePath === undefined) {
    throw new Error('CORYMB_CHROMIUM names no browser: run the browser tests through go run ./webapp/check')
  }
  const storage = scratchFolder('phone')
  const launch = () =>
    chromium.launchPersistentContext(storage, {
      executablePath,
      args: flags,
      viewport: options.size ?? phoneSize,
      colorScheme: options.dark ? 'dark' : 'light',
      locale: options.locale ?? 'en-GB',
      reducedMotion: 'reduce',
      ...(options.offline === undefined ? {} : { offline: options.offline }),
    })
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
      await context.close()
      rmSync(storage, { recursive: true, force: true })
    },
  }
}
