import { mkdirSync } from 'node:fs'
import { afterAll, it } from 'vitest'
import { openCutFarm } from './cut_farm'
import { laptopSize, Phones, phoneSize } from './phone'
import { countHandful, go, openWalk } from './walk'
const out = '/tmp/cutlist-pics'
mkdirSync(out, { recursive: true })
const phones = new Phones()
afterAll(() => phones.close())
it('pictures', async () => {
  const farm = await openCutFarm({ sprayed: 0 })
  let n = 0
  for (const [name, size, dark, locale] of [['phone-light', phoneSize, false, 'en-GB'], ['phone-dark', phoneSize, true, 'es-MX'], ['laptop-light', laptopSize, false, 'en-GB'], ['laptop-dark', laptopSize, true, 'en-GB']] as const) {
    const { page, context } = await phones.add({ size, dark, locale })
    await farm.admit(context, n % 3)
    await page.goto(farm.shed.url)
    await page.getByRole('navigation').first().waitFor()
    const shot = async (what: string, fullPage = false) => { await page.waitForTimeout(400); await page.screenshot({ path: `${out}/${name}-${what}.png`, fullPage }) }
    await go(page, 'row')
    await page.locator('.page').waitFor()
    await shot('0-row')
    await go(page, 'row/cuts')
    await page.locator('.cuts-sum').waitFor()
    await shot('1-list')
    await page.locator('.cut-what').first().click()
    await page.locator('.tick').nth(1).click()
    await shot('2-open', true)
    await page.locator('.tick').nth(1).click()
    await go(page, 'row')
    await openWalk(page, 'Alder')
    await shot('3-walk')
    if (n === 0) { await page.locator('.handful button').nth(6).click(); await page.waitForTimeout(300); await page.locator('.handful button').nth(5).click(); await page.waitForTimeout(500); await shot('4-enough')
      await page.getByRole('button', { name: 'Count by grade and length' }).click(); await shot('5-grid')
      await go(page, 'row/cuts'); await shot('6-after', true) }
    n++
  }
  await farm.close()
})
