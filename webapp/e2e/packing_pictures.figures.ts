// Pictures of the plan, of packing, of a bunch by hand and of the pick list, on a phone and a laptop, light and dark, and
// the pick list as PDF, to be looked at by a person. They are written to the folder that CORYMB_PICTURES names, else to
// one that is told.

import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, it } from 'vitest'
import { openPackingFarm, type PackingFarm } from './packing_farm'
import { laptopSize, type PhoneOptions, Phones, phoneSize } from './phone'
import { scratchFolder } from './shed'
import { go } from './walk'

const patience = 300_000

const folder = process.env['CORYMB_PICTURES'] ?? scratchFolder('pictures')
mkdirSync(folder, { recursive: true })

const looks: readonly [string, 'owner' | 'crew', PhoneOptions][] = [
  ['phone-light', 'owner', { size: phoneSize }],
  ['phone-dark-crew', 'crew', { size: phoneSize, dark: true }],
  ['laptop-light', 'owner', { size: laptopSize }],
  ['laptop-dark-crew', 'crew', { size: laptopSize, dark: true }],
  ['phone-spanish', 'owner', { size: phoneSize, locale: 'es-MX' }],
]

let farm: PackingFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openPackingFarm()
}, patience)

afterAll(async () => {
  await phones.close()
  await farm.close()
  console.log(`pictures are in ${folder}`)
})

describe.each(looks)('on a %s', (look, as, options) => {
  it('the plan and what follows it', { timeout: patience }, async () => {
    const { page, context } = await phones.add(options)
    await farm.admit(context, as)
    await page.goto(`${farm.shed.url}/#/shed/packing`)
    await page.locator('.packing > .say b').waitFor()
    const shot = async (name: string, whole = true) => {
      await page.waitForTimeout(400)
      await page.screenshot({ path: join(folder, `${name}-${look}.png`), fullPage: whole })
    }
    await shot('plan')
    await shot('plan-fold', false)
    await page.locator('.packing .rows button.line').nth(1).click()
    await shot('plan-open')
    await page.locator('.line-detail .buttons .btn').nth(1).click()
    await page.waitForTimeout(1_500)
    await shot('plan-refused')
    await go(page, `shed/packing/${farm.today}/pick`)
    await page.locator('.pack-tap').first().waitFor()
    await shot('pick')
    for (const format of ['A4', 'Letter'] as const) await page.pdf({ path: join(folder, `pick-${look}-${format}.pdf`), format })
    await go(page, `shed/packing/${farm.today}/pack`)
    await page.locator('.pack-line').first().waitFor()
    await shot('pack')
    await page.locator('.pack-line', { hasText: 'Studio' }).first().locator('.pack-tap').click()
    await page.locator('.last-bunch').waitFor()
    await shot('pack-tapped', false)
    await page.locator('.pack-line', { hasText: /left out|fuera/ }).first().locator('.pack-tap').click()
    await shot('pack-held', false)
    await page.locator('.pack-line > a').first().click()
    await page.locator('.hand-lot').first().waitFor()
    await shot('hand')
    await context.setOffline(true)
    await go(page, `shed/packing/${farm.today}`)
    await page.locator('.packing .rows button.line').nth(3).click()
    await page.locator('.line-detail .buttons .btn').nth(1).click()
    await shot('plan-offline')
    await go(page, `shed/packing/${farm.today}/pack`)
    await page.locator('.pack-line').first().waitFor()
    await shot('pack-offline')
    await page.close()
  })
})
