// Work on a phone with no signal: timed with one tap each, over a restart of the app, asked about once it was forgotten,
// typed, put right and taken away.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bedFacts, farmFacts, personFacts } from '../src/crop/facts'
import type { BedID, PersonID } from '../src/crop/nouns'
import { bedWith } from '../src/crop/testing/nouns'
import { violationsAlong } from './accessible'
import { invite, joinBy, joinMany, whoIs } from './joining'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField } from './walk'
import { admit, write } from './writer'

let shed: Shed
let owner: string
let crew: string
const phones = new Phones()
const ben = crypto.randomUUID() as PersonID

beforeAll(async () => {
  shed = await openShed('serve')
  const [writer, other] = await joinMany(shed, 2)
  if (writer === undefined || other === undefined) throw new Error('two devices were to join')
  owner = other
  crew = await joinBy(shed, await invite(shed, writer, ben, 'crew', 'Ben'))
  const { farm, person } = await whoIs(shed, owner)
  await write(shed, farm, writer, [
    ...farmFacts({ id: farm, name: 'Made-up beds', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...personFacts({ id: person, name: 'Ilse' }), ...personFacts({ id: ben, name: 'Ben' }), ...bedFacts(bedWith({ id: 'b' as BedID, name: 'North' })),
  ])
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** A phone whose clock the test moves on, at two in the afternoon of 28 May 2026; a reload keeps what it was moved by. */
async function phone(cookie: string): Promise<Page> {
  const { page, context } = await phones.add({ touch: true })
  await context.addInitScript(() => {
    const Real = Date
    const began = Number(localStorage.getItem('began') ?? Real.now())
    localStorage.setItem('began', String(began))
    const shift = () => new Real(2026, 4, 28, 14).getTime() - began + 60_000 * Number(localStorage.getItem('minutes') ?? 0)
    globalThis.Date = new Proxy(Real, {
      construct: (target, told: [] | [number]) => (told.length === 0 ? new target(Real.now() + shift()) : new target(...told)),
      get: (target, name) => (name === 'now' ? () => Real.now() + shift() : Reflect.get(target, name)),
    })
  })
  await admit(context, shed, cookie)
  await page.goto(shed.url)
  await page.getByRole('navigation').first().waitFor()
  await readyForField(page)
  return page
}

const later = (page: Page, minutes: number) => page.evaluate((more) => localStorage.setItem('minutes', String(Number(localStorage.getItem('minutes') ?? 0) + more)), minutes)
const tap = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: typeof name === 'string' }).click()
const today = (page: Page) => page.locator('.worked-day').first()

describe('the timer', () => {
  it('is started, changed over and stopped with one tap each with no signal, runs on over a restart, and reaches the other phones', async () => {
    const page = await phone(crew)
    await go(page, 'row')
    await page.getByRole('link', { name: 'Work' }).click()
    await page.context().setOffline(true)
    await tap(page, 'Cut')
    await page.locator('.clock', { hasText: '0:00' }).waitFor()
    await page.getByLabel('Bed, if it is one').selectOption('North')
    await later(page, 95)
    await page.reload()
    await page.locator('.clock', { hasText: '1:35' }).waitFor()
    await tap(page, 'Bunch')
    await page.getByText('Cut: 95 minutes written down. Bunch: started.').first().waitFor()
    await later(page, 20)
    await tap(page, 'Stop')
    await today(page).getByText('1:55 h').waitFor()
    await tap(page, 'Undo')
    await page.locator('.clock', { hasText: '0:20' }).waitFor()
    await tap(page, 'Stop')
    await today(page).getByText('1:55 h').waitFor()
    await page.context().setOffline(false)
    await go(page, 'shed')
    await everythingSent(page)
    const other = await phone(owner)
    await go(other, 'shed/work')
    await today(other).getByRole('button', { name: /^Cut ?Ben · North ?1:35$/ }).waitFor()
  })

  it('that was stopped at once writes nothing down, and one that was forgotten asks how long it was', async () => {
    const page = await phone(owner)
    await go(page, 'shed/work')
    await tap(page, 'Weed')
    await tap(page, 'Stop')
    await page.getByText('Stopped within half a minute: nothing is written down.').first().waitFor()
    await tap(page, 'Weed')
    await page.locator('.clock').waitFor()
    await later(page, 13 * 60)
    await page.reload()
    await page.getByText(/^Weed has been running since 28 May/).or(page.getByText(/^Weed has been running since May 28/)).waitFor()
    expect(await page.getByRole('button', { name: 'Cut', exact: true }).count()).toBe(0)
    await page.getByLabel('How long was it? Minutes, or 1:30').fill('2:75')
    await tap(page, 'Write it down')
    await page.getByText('Minutes are a number like 90').waitFor()
    await page.getByLabel('How long was it? Minutes, or 1:30').fill('2:15')
    await tap(page, 'Write it down')
    await page.getByText('Weed: 135 minutes written down.').first().waitFor()
    await page.locator('.worked-day', { hasText: 'Weed' }).getByText('2:15').waitFor()
  })
})

it('minutes are typed, put right, deleted and brought back; crew puts its own right alone', async () => {
  const page = await phone(owner)
  await go(page, 'row/work')
  await tap(page, 'Write minutes down')
  await page.getByLabel('What').selectOption('Deliver')
  await page.getByLabel('Minutes, or 1:30').fill('50')
  await page.getByLabel('Note').fill('two rounds')
  await tap(page, 'Write it down')
  await tap(page, /^Deliver .*0:50$/)
  await page.getByLabel('Minutes, or 1:30').fill('1:10')
  await tap(page, 'Write it down')
  await tap(page, /^Deliver .*1:10$/)
  await tap(page, 'Delete')
  await page.getByText('Deleted: Deliver, 70 minutes.').first().waitFor()
  expect(await today(page).getByText('Deliver').count()).toBe(0)
  await tap(page, 'Undo')
  await today(page).getByText('Ilse · two rounds').waitFor()
  await go(page, 'shed')
  await everythingSent(page)

  const ofCrew = await phone(crew)
  await go(ofCrew, 'row/work')
  await today(ofCrew).getByText('Ilse · two rounds').waitFor()
  expect(await ofCrew.getByRole('button', { name: /^Deliver ?Ilse/ }).count()).toBe(0)
  await ofCrew.getByRole('button', { name: /^Cut ?Ben/ }).waitFor()
  await tap(ofCrew, 'Write minutes down')
  expect(await ofCrew.getByLabel('For which channel').count()).toBe(0)
})

it('everybody can use it', async () => {
  const page = await phone(owner)
  const found = await violationsAlong(page, [
    ['work', (at) => go(at, 'row/work')],
    ['a timer', (at) => tap(at, 'Cut')],
    ['the form', (at) => tap(at, 'Write minutes down')],
  ])
  expect(found).toEqual([])
})
