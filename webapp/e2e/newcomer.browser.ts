// A newcomer's path: from the opened link on an empty farm to the first stored count, with the taps, typed
// fields and screens that it takes.

import { afterAll, beforeAll, expect, it } from 'vitest'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { Thumb } from './thumb'
import { calledOut, go, listed, readyForField } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('serve')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

it('leads from the opened link to the first stored count in under 12 taps and no more than 5 screens', async () => {
  const { page, context } = await phones.add({ touch: true })
  const thumb = new Thumb(page)
  const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
  await page.goto(`${shed.url}/#join/${shed.firstCode}`)

  await thumb.arrive('Join the farm')
  await thumb.tap(button('Join'))

  await thumb.arrive('Welcome to Corymb')
  await thumb.type('Your name', 'Ana')
  await thumb.type('Name of the farm', 'Hill farm')
  await thumb.tap(button('Begin'))

  await thumb.arrive('Your first bed')
  await thumb.tap(button('Yarrow'))
  await thumb.tap(button(/^Spring \d{4}$/))
  await thumb.tap(button('Plant 72'))

  await thumb.arrive('Planted')
  await thumb.tap(button('Count 24, drawn at random'))

  await thumb.arrive('Bed 1')
  const plant = await calledOut(page)
  await thumb.tap(button('7 stems'))
  await expect.poll(() => calledOut(page)).not.toBe(plant)

  console.log(`a newcomer's first count: ${thumb}`)
  expect(thumb.taps).toBeLessThan(12)
  expect(thumb.screens.length).toBeLessThanOrEqual(5)
  expect(await listed(page, plant)).toMatch(/ 7$/)
  await readyForField(page)
  await context.setOffline(true)
  await page.reload()
  await go(page, 'row')
  expect(await listed(page, plant)).toMatch(/ 7$/)
})
