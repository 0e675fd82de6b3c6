// Pictures of the bench, the cooler, a lot, claims and what needs a look, on a phone and a laptop, light and dark, to be
// looked at by a person. They are written to the folder that CORYMB_PICTURES names, else to one that is told.

import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, it } from 'vitest'
import { lotCell } from '../src/crop/lots'
import { laptopSize, type PhoneOptions, Phones, phoneSize } from './phone'
import { scratchFolder } from './shed'
import { aMorning, lot, openSoldFarm, type SoldFarm } from './sold_farm'
import { go } from './walk'

const patience = 300_000

const folder = process.env['CORYMB_PICTURES'] ?? scratchFolder('pictures')
mkdirSync(folder, { recursive: true })

const looks: readonly [string, PhoneOptions][] = [
  ['phone-light', { size: phoneSize }],
  ['phone-dark', { size: phoneSize, dark: true }],
  ['laptop-light', { size: laptopSize }],
  ['laptop-dark', { size: laptopSize, dark: true }],
  ['phone-spanish', { size: phoneSize, locale: 'es-MX' }],
]

let farm: SoldFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openSoldFarm(aMorning)
}, patience)

afterAll(async () => {
  await phones.close()
  await farm.close()
  console.log(`pictures are in ${folder}`)
})

const ember = lotCell(lot('elder', 2, 'ember', 'first', 50))

describe.each(looks)('on a %s', (look, options) => {
  it('the cooler and what belongs to it', { timeout: patience }, async () => {
    const { page, context } = await phones.add(options)
    await farm.admit(context)
    await page.goto(`${farm.shed.url}/#/shed/cooler`)
    await page.locator('.cooler button.line').first().waitFor()
    const shot = async (name: string) => {
      await page.waitForTimeout(400)
      await page.screenshot({ path: join(folder, `${name}-${look}.png`), fullPage: true })
    }
    await shot('cooler')
    await page.locator('.cooler .rows > li > button.line').nth(1).click()
    await shot('cooler-open')
    await page.locator('.reasons .btn').first().click()
    await page.locator('.undoable').waitFor()
    await shot('cooler-written-off')
    await page.locator('.undoable .btn').click()
    for (const [name, ...place] of [['lot', 'shed', 'lot', ember], ['claims', 'shed', 'claims'], ['line', 'shed', 'claims', 'l1'], ['shed', 'shed'], ['plant', 'beds', 'plant', 'older 0']] as const) {
      await go(page, place.map(encodeURIComponent).join('/'))
      await page.locator('h2').first().waitFor()
      await shot(name)
    }
    await go(page, 'shed')
    await page.locator('.bench select').first().selectOption({ label: 'Elder' })
    await page.locator('.bench-stage .btn').first().click()
    await page.locator('.looks .settle-row .btn').first().click()
    await shot('bench')
  })
})
