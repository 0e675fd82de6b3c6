// Colour cards: printed in the shed and known in the log, told what colours they have, measured, retired and used
// again; what is said with no signal, and to who only looks on.

import { execFileSync } from 'node:child_process'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { violations, violationsAlong } from './accessible'
import { drawCardScene } from '../src/colourcard/testing/cardscenes'
import { codeOf } from '../src/colourcard/testing/codes'
import { render } from '../src/colourcard/testing/render'
import { photoOf } from './colour_card'
import { Phones } from './phone'
import { openShed, scratchFolder, type Shed } from './shed'
import { everythingSent, go, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** What is read on the first sheet of a PDF; zbar-tools and poppler-utils are installed by .ci/run. */
function scanned(pdf: string): string[] {
  const sheet = join(scratchFolder('cards'), 'sheet')
  execFileSync('pdftoppm', ['-gray', '-r', '200', '-singlefile', pdf, sheet])
  return execFileSync('zbarimg', ['--raw', '--quiet', `${sheet}.pgm`], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim().split('\n')
}

async function owner(locale = 'en-GB'): Promise<Page> {
  const { page } = await phones.add({ locale })
  await page.goto(shed.url)
  await sayWho(page)
  return page
}

/** Prints cards and gives the code of their batch. */
async function print(page: Page): Promise<string> {
  await go(page, 'shed/cards/print')
  const saving = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Get the PDF' }).click()
  const file = await saving
  const batch = /^card-(\w{6})\.pdf$/.exec(file.suggestedFilename())?.[1] ?? ''
  expect(scanned(await file.path())).toEqual(Array.from({ length: 8 }, () => `CARD/1/${batch}`))
  return batch
}

/** A code as people read it. */
const shown = (batch: string) => `${batch.slice(0, 3)} ${batch.slice(3)}`

/** The colours as an instrument may have told them, by their numbers on the drawing. */
const measured = [
  '31,2 0,4 -0,6', '40,1 0,2 -0,9', '54,8 0,1 −1,2', '70,2 0 -1', '85,9 0,3 -0,8',
  '45,1 50,3 24,9', '62 33,5 47,1', '80,4 4,9 61,2', '51,3 -27,4 24,1', '39,9 19,6 -33,1', '57,4 42,7 -4', '95,1 0,2 -1,9',
]

async function typeColours(page: Page, colours: readonly string[]): Promise<void> {
  const inputs = page.locator('.card-row input')
  for (const [i, text] of colours.flatMap((one) => one.split(' ')).entries()) await inputs.nth(i).fill(text)
}

it('prints a batch, which the farm then knows, and keeps what it is told with no signal', async () => {
  const page = await owner()
  await readyForField(page)
  await page.getByRole('link', { name: 'Colour cards' }).click()
  await page.getByRole('link', { name: 'Print cards' }).click()
  await page.getByRole('button', { name: '2', exact: true }).click()
  await page.getByText('16 cards of a new batch').waitFor()
  await page.getByRole('button', { name: '1', exact: true }).click()
  const batch = await print(page)
  await page.getByRole('link', { name: `To batch ${shown(batch)}` }).click()
  await page.getByText('Not characterised: colours measured with these cards may be off by about 5.').waitFor()

  await shed.kill()
  await go(page, 'shed/cards/print')
  await page.getByText('Printing is done with the shed in reach.').waitFor()
  expect(await page.getByRole('button', { name: 'Get the PDF' }).count()).toBe(0)

  await go(page, `shed/cards/${batch}`)
  await page.getByRole('link', { name: 'Type measured values' }).click()
  await typeColours(page, [...measured.slice(0, 8), '51,3 27,4 24,1'])
  await page.getByRole('button', { name: 'Save the colours' }).click()
  await page.getByText('That is far from what was printed as green.').waitFor()
  await page.getByText('4 colours need another look.').waitFor()
  await page.reload() // the numbers are read in another app, and this one is closed meanwhile
  expect(await page.locator('.card-row input').first().inputValue()).toBe('31,2')
  await typeColours(page, measured)
  await page.getByRole('button', { name: 'Save the colours' }).click()
  await page.getByText('known to about 1.1.').waitFor()
  expect(await page.getByRole('row', { name: /violet/ }).innerText()).toMatch(/39\.9\s+19\.6\s+−33\.1/)

  await page.getByRole('textbox', { name: 'It measures, in mm' }).fill('8')
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByText('measures between 70 and 90 mm').waitFor()
  await page.getByRole('textbox', { name: 'It measures, in mm' }).fill('79,2')
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByText('came out 1 % too small').waitFor()

  await shed.start()
  const other = await owner('es-MX')
  await go(other, `shed/cards/${batch}`)
  await other.getByText('se conocen con un error de unas 1.1.').waitFor({ timeout: 30_000 })
  await other.getByText('salieron un 1 % más chicas').waitFor()
})

it('takes back what was done last: colours as printed, and retiring', async () => {
  const page = await owner()
  const batch = await print(page)
  await go(page, `shed/cards/${batch}`)
  await page.getByRole('button', { name: 'Take them as printed' }).click()
  await page.getByText('Taken as printed: nobody has measured these cards').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByText('Not characterised').waitFor()
  await page.getByRole('button', { name: 'Retire these cards' }).click()
  await page.getByText(/^Retired on .*: nothing is measured with these cards any more\.$/).waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByText('Not characterised').waitFor()
  await page.getByRole('button', { name: 'Retire these cards' }).click()
  await page.getByRole('button', { name: 'Use them again' }).click()
  await page.getByText(`Batch ${shown(batch)} is in use again.`).first().waitFor()
  await page.getByRole('button', { name: 'Retire these cards' }).waitFor()
  await go(page, 'shed')
  await everythingSent(page)
})

it('takes in a batch that was printed elsewhere, and tells of one that is old', async () => {
  const page = await owner()
  await go(page, 'shed/cards')
  const [code, day] = [page.getByRole('textbox', { name: 'Code on the card' }), page.getByLabel('Printed on')]
  await code.fill('k7m 4qf')
  await page.getByRole('button', { name: 'Add the batch' }).click()
  await page.getByText('That is not the code of a batch.').waitFor()
  await code.fill('k7m 4qe')
  await day.fill('2024-05-01')
  await page.getByRole('button', { name: 'Add the batch' }).click()
  await page.getByRole('heading', { name: 'Cards K7M 4QE' }).waitFor()
  await page.getByText(/^These cards are [\d,]+ days old\. Colours on paper fade/).waitFor()
})

it('is looked at and not changed by crew and by who only looks on', async () => {
  const page = await owner()
  const batch = await print(page)
  for (const role of ['crew', 'viewer']) {
    const answer = await page.request.post(`${shed.url}/api/invitations`, { data: { person: crypto.randomUUID(), name: 'Ilse', role } })
    const { code } = (await answer.json()) as { code: string }
    const other = (await phones.add()).page
    await other.goto(`${shed.url}/#join/${code.replace('-', '')}`)
    await other.getByRole('button', { name: 'Join', exact: true }).click()
    await other.getByRole('button', { name: 'Start' }).click()
    await other.getByRole('navigation').first().waitFor()
    for (const at of ['shed/cards/print', 'shed/cards', `shed/cards/${batch}/typed`, `shed/cards/${batch}`]) {
      await go(other, at)
      await other.getByText('Only an owner prints cards, or changes what is told of them.').waitFor()
      expect(await other.locator('main button:not(.what-is-mark), main input, main form').count()).toBe(0)
    }
    await other.getByText('Not characterised').waitFor()
    expect((await other.request.post(`${shed.url}/api/card`, { data: { batch, paper: 'a4', language: 'en', sheets: 1 } })).status()).toBe(403)
  }
})

it('axe-core finds nothing on any page of cards, light and dark, on a phone and on a laptop', async () => {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page)
  const batch = await print(page)
  expect(await violationsAlong(page, [
    ['printed', async () => undefined],
    ['a batch', () => go(page, `shed/cards/${batch}`)],
    ['typing, with slips', async () => {
      await page.getByRole('link', { name: 'Type measured values' }).click()
      await typeColours(page, ['31 x 0', '40 0 0', '300 0 0'])
      await page.getByRole('button', { name: 'Save the colours' }).click()
      await page.getByText('L is between 0 and 100.').waitFor()
    }],
    ['a batch with its colours', async () => {
      await typeColours(page, measured)
      await page.getByRole('button', { name: 'Save the colours' }).click()
      await page.getByText('The measured colours are saved.').first().waitFor()
    }],
    ['a retired batch', () => page.getByRole('button', { name: 'Retire these cards' }).click()],
    ['the list', async () => {
      await go(page, 'shed/cards')
      await page.getByRole('textbox', { name: 'Code on the card' }).fill('333')
      await page.getByRole('button', { name: 'Add the batch' }).click()
    }],
  ])).toEqual([])
}, 400_000)

describe('the colours of a batch by photo', () => {
  const [known, unknown] = ['6GRATJ', '333334'] as const

  async function rendered(by: 'card' | 'patch') {
    const codes = async (batch: string) => ({ batch, card: await codeOf(`CARD/1/${batch}`), tag: await codeOf('HKV 4J') })
    const { scene, patch } = drawCardScene(2, { known: await codes(known), unknown: await codes(unknown) }, by)
    return { scene, patch, drawn: render(scene) }
  }

  it('are found beside a card that is measured, shown beside those printed, and kept once they are accepted', async () => {
    const { drawn } = await rendered('card')
    const page = await owner()
    await go(page, `shed/cards/${known}/typed`)
    await typeColours(page, drawn.beside!.known.patches.map(({ L, a, b }) => [L, a, b].map((part) => part.toFixed(2)).join(' ')))
    await page.getByRole('button', { name: 'Save the colours' }).click()
    await page.getByText('Measured elsewhere:').waitFor()
    await go(page, `shed/cards/${unknown}`)
    await page.getByRole('link', { name: 'Photograph a card' }).click()
    await page.getByText('6GR ATJ').waitFor()
    const input = page.locator('input[type=file]').last()
    await input.setInputFiles({ name: 'text.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no picture') })
    await page.getByText('This file is no picture that can be opened here.').waitFor()
    await input.setInputFiles(await photoOf(drawn))
    await page.getByText(/^Good, beside a card of 6GR ATJ/).waitFor({ timeout: 60_000 })
    expect(await page.getByRole('row', { name: /violet/ }).innerText()).toContain('as printed')
    expect(await violations(page)).toEqual([])
    await page.getByRole('button', { name: 'Use these colours' }).click()
    await page.getByText('Photographed beside what is known:').waitFor()
    const violet = await page.getByRole('row', { name: /violet/ }).innerText()
    const [L = 0] = violet.split(/\s+/).map((part) => Number(part.replace('−', '-'))).filter(Number.isFinite)
    expect(Math.abs(L - drawn.printed.patches[9]!.L)).toBeLessThan(3)
    await page.getByRole('button', { name: 'Undo' }).click()
    await page.getByText('Not characterised').waitFor()
  })

  it('are found beside a grey that is tapped in the photo, and where something else is tapped it is said', async () => {
    const { scene, patch, drawn } = await rendered('patch')
    const page = await owner()
    await go(page, `shed/cards/${unknown}/photo`)
    await page.getByRole('button', { name: 'A grey patch' }).click()
    const { L, a, b } = scene.square!.lab
    for (const [part, value] of Object.entries({ L, a, b })) await page.locator('.card-row label', { hasText: part }).locator('input').fill(value.toFixed(1))
    const tap = async (x: number, y: number) => {
      await page.locator('input[type=file]').last().setInputFiles(await photoOf(drawn))
      const picture = page.locator('.card-photo-tap')
      await picture.scrollIntoViewIfNeeded()
      const box = (await picture.boundingBox())!
      await picture.click({ position: { x: (x / scene.width) * box.width, y: (y / scene.height) * box.height } })
    }
    await tap(0.02 * scene.width, 0.02 * scene.height)
    await page.getByText('Where you tapped is not one plain colour').waitFor({ timeout: 60_000 })
    await tap(patch.x, patch.y)
    await page.getByText(/^Good: colours told to about/).waitFor({ timeout: 60_000 })
  })
})
