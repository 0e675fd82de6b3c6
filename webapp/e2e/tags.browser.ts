// Stake tags: from a bed's page to a PDF whose codes, printed and scanned, are those of its plants; and what
// is said with no signal.

import { execFileSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { countedBed, go, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** The codes of the bed's plants that are counted, as its page lists them. */
async function countedCodes(page: Page): Promise<string[]> {
  const rows = page.locator('.plants > li', { has: page.locator('input:checked') })
  return (await rows.locator('a b').allInnerTexts()).sort()
}

/** What is read on every sheet of a PDF; zbar-tools and poppler-utils are installed by .ci/run. */
function scanned(pdf: string): string[] {
  const folder = scratchFolder('sheets')
  execFileSync('pdftoppm', ['-gray', '-r', '200', pdf, join(folder, 'sheet')])
  const read = execFileSync('zbarimg', ['--raw', '--quiet', ...readdirSync(folder)], { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] })
  return read.trim().split('\n').sort()
}

it('prints a tag for each counted plant of a bed, and says with no signal that the shed does it', async () => {
  const { page, context } = await phones.add({ locale: 'en-US' })
  await page.goto(shed.url)
  await sayWho(page)
  await readyForField(page)
  await go(page, 'beds')
  await page.getByRole('link', { name: new RegExp(`^${countedBed}`) }).click()
  await page.getByRole('link', { name: 'Print tags' }).waitFor()
  const codes = await countedCodes(page)
  expect(codes.length).toBeGreaterThan(1)

  await page.getByRole('link', { name: 'Print tags' }).click()
  await page.getByRole('button', { name: 'US Letter', pressed: true }).waitFor()
  await page.getByRole('button', { name: `Counted this season: ${codes.length}`, pressed: true }).waitFor()
  await page.getByText(`${codes.length} tags on ${Math.ceil(codes.length / 16)} sheet`).waitFor()
  await page.getByRole('button', { name: 'A4', exact: true }).click()
  await page.getByText(`${codes.length} tags on ${Math.ceil(codes.length / 14)} sheet`).waitFor()

  const saving = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Get the PDF' }).click()
  const file = await saving
  expect(file.suggestedFilename()).toBe(`tags-${countedBed.toLowerCase()}.pdf`)
  expect(scanned(await file.path())).toEqual(codes)
  await page.getByText('The PDF is on this device.').waitFor()

  await shed.kill()
  await page.getByText('Printing is done with the shed in reach.').waitFor()
  await page.reload()
  await page.getByText('Printing is done with the shed in reach.').waitFor()
  await page.getByRole('button', { name: 'A4', exact: true, pressed: true }).waitFor()
  expect(await page.getByRole('button', { name: 'Get the PDF' }).count()).toBe(0)
  await context.close()
  await shed.start()
})

it('prints the tag of one plant from its page', async () => {
  const { page, context } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page)
  await go(page, 'beds')
  await page.getByRole('link', { name: new RegExp(`^${countedBed}`) }).click()
  const link = page.locator('.plants a.line').first()
  const code = await link.locator('b').innerText()
  await link.click()
  await page.getByRole('link', { name: 'Print its tag' }).click()
  await page.getByRole('button', { name: 'Only this one: 1', pressed: true }).waitFor()
  const saving = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Get the PDF' }).click()
  expect(scanned(await (await saving).path())).toEqual([code])
  await context.close()
})
