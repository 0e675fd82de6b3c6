// Phones over https by the farm's own authority: one that trusts it has all that the field needs; one that
// does not is told what to do.

import { execFileSync } from 'node:child_process'
import { mkdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { type BrowserContext, chromium, type Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { invite, joinBy } from './joining'
import { launching, phoneSize, wholeBrowser } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { everythingSent, go, readyForField } from './walk'

const host = 'corymb.local'

let shed: Shed
const data = scratchFolder('https')
const homes: string[] = []
const phones: BrowserContext[] = []

beforeAll(async () => {
  shed = await openShed('demo', { data, flags: ['-tls', 'local', '-host', host] })
})

afterAll(async () => {
  for (const phone of phones) await phone.close()
  await shed.close()
  for (const folder of [data, ...homes]) rmSync(folder, { recursive: true, force: true })
})

const farm = () => `https://${host}:${shed.port}`

/** A browser for which the farm's name leads to the shed, and which may trust its authority. */
async function phone(trusts: boolean): Promise<Page> {
  const home = scratchFolder('home')
  homes.push(home)
  if (trusts) trust(home)
  const { args = [], ...rest } = launching()
  const context = await chromium.launchPersistentContext(join(home, 'profile'), {
    ...rest, executablePath: wholeBrowser(), viewport: phoneSize, locale: 'en-GB', permissions: ['camera'],
    args: [...args, `--host-resolver-rules=MAP ${host} 127.0.0.1`, '--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'],
    env: { ...process.env, HOME: home },
  })
  phones.push(context)
  return context.pages()[0] ?? context.newPage()
}

/** Adds the authority to the ones that the browser trusts, as a person does in its settings. */
function trust(home: string): void {
  const store = join(home, '.pki', 'nssdb')
  mkdirSync(store, { recursive: true })
  const certutil = (...args: string[]) => execFileSync('certutil', ['-d', `sql:${store}`, ...args])
  certutil('-N', '--empty-password')
  certutil('-A', '-t', 'C,,', '-n', 'the farm', '-i', join(data, 'certs', 'authority.pem'))
}

describe('a phone that trusts the farm', () => {
  it('joins, keeps the app for the field, has a camera and a socket, and starts without the shed', async () => {
    const page = await phone(true)
    await page.goto(`${farm()}/#/join`)
    expect(await page.evaluate(() => isSecureContext)).toBe(true)
    await page.getByRole('textbox', { name: 'Code of the invitation' }).fill(await invite(shed, await joinBy(shed, ''), crypto.randomUUID(), 'crew'))
    await page.getByRole('button', { name: 'Join', exact: true }).click()
    await page.getByRole('button', { name: 'Start' }).click()
    await page.getByRole('navigation').first().waitFor()
    await everythingSent(page)
    await readyForField(page)
    const cookies = await page.context().cookies()
    expect(cookies.map(({ name, secure, httpOnly, sameSite }) => ({ host: name.startsWith('__Host-'), secure, httpOnly, sameSite })))
      .toEqual([{ host: true, secure: true, httpOnly: true, sameSite: 'Strict' }])
    const tracks = await page.evaluate(async () => (await navigator.mediaDevices.getUserMedia({ video: true })).getVideoTracks().length)
    expect(tracks).toBe(1)
    await page.goto(`${farm()}/trust`) // the app that is kept does not stand before it
    await page.locator('a[href^="/authority.crt"]').first().waitFor()
    await page.goto(`${farm()}/`)
    await page.getByRole('navigation').first().waitFor()
    await shed.kill()
    await page.reload()
    await page.getByRole('navigation').first().waitFor()
    await go(page, 'row')
    await page.getByRole('heading', { name: 'Which bed?' }).waitFor()
    await shed.start()
  })
})

describe('a phone that does not', () => {
  it('is refused by its browser, and is told by plain http what to do', async () => {
    const warned = await phone(false)
    await expect(warned.goto(farm())).rejects.toThrow('ERR_CERT_AUTHORITY_INVALID')
    const page = await warned.context().newPage()
    await page.goto(`http://${host}:${shed.port}/`)
    expect(await page.evaluate(() => document.scripts.length)).toBe(0)
    await page.getByRole('link', { name: farm() }).first().waitFor()
    await page.locator('a[href^="/trust"]').first().click()
    await page.getByText(/[0-9A-F]{4}/).first().waitFor()
    const [download] = await Promise.all([page.waitForEvent('download'), page.locator('a[href^="/authority.crt"]').first().click()])
    expect(download.suggestedFilename()).toMatch(/\.crt$/)
  })
})
