// A phone with an app from before people joined holds unsent counts; the shed becomes today's, then the app.

import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Front, openFront } from './front'
import { joinBy } from './joining'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { countHandful, everythingSent, go, listed, openWalk, readyForField, sayWho } from './walk'

const oldApp = join(import.meta.dirname, '../../testdata/apps/before-joining.tar.gz')

let shed: Shed
let front: Front
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
  front = await openFront(oldApp, () => shed.port, await joinBy(shed, ''))
})

afterAll(async () => {
  await phones.close()
  await front.close()
  await shed.close()
})

it('nothing is lost from an old app with unsent counts to today’s', async () => {
  const phone = await phones.addLasting()
  await phone.page.goto(front.url)
  await phone.page.getByRole('button', { name: 'Maren', exact: true }).click() // the old app asked who one is
  await phone.page.getByRole('navigation').first().waitFor()
  await readyForField(phone.page)
  await openWalk(phone.page)
  const sent = await countHandful(phone.page, 4)
  await everythingSent(phone.page)

  front.stand('nothing')
  const unsent = [await countHandful(phone.page, 5), await countHandful(phone.page, 6)]
  await phone.killAndReopen(front.url)
  unsent.push(await countHandful(phone.page, 7))

  front.stand('today') // whose shed refuses the old app, which has joined nothing
  await phone.page.reload()
  await go(phone.page, 'shed')
  await phone.page.getByRole('button', { name: 'Use it now' }).click()
  await phone.page.getByRole('heading', { name: 'Today', exact: true }).waitFor() // today's app, joined at the desk
  await go(phone.page, 'row')
  await everythingSent(phone.page)

  const other = await phones.add()
  await other.page.goto(shed.url)
  await sayWho(other.page, 'Joaquín')
  await openWalk(other.page)
  expect(await listed(other.page, sent)).toMatch(/ 4$/)
  for (const [i, plant] of unsent.entries()) expect(await listed(other.page, plant)).toMatch(new RegExp(` ${5 + i}$`))
})
