// How long the cooler's pages take to open on a farm with a year of sales: 20,000 bunches and 300 buyers, on a phone-sized
// page without throttling; and a tap that writes off, until it is seen to be done.

import { afterAll, beforeAll, it } from 'vitest'
import { lotCell } from '../src/crop/lots'
import { buyerFacts, claimFacts } from '../src/crop/sale_facts'
import type { BuyerID, Cents, ChannelID, ClaimID, LineID } from '../src/crop/sale_nouns'
import type { Fact } from '../src/log/change'
import { Phones } from './phone'
import { ago, aMorning, bench, lot, openSoldFarm, order, packed, shrink, type SoldFarm } from './sold_farm'

const patience = 600_000
const [days, linesADay, bunches, buyers] = [364, 11, 5, 300]

let farm: SoldFarm
const phones = new Phones()

beforeAll(async () => {
  farm = await openSoldFarm(() => [...aMorning(), ...aYear()])
}, patience)

afterAll(async () => {
  await phones.close()
  await farm.close()
})

/** Each day's lines are packed from that day's lots, of which a little is written off. */
function aYear(): Fact[] {
  const facts: Fact[] = Array.from({ length: buyers }, (_, i) => buyerFacts(`b${i}` as BuyerID, { name: `Buyer ${i}`, channel: 'flo' as ChannelID })).flat()
  for (let day = days; day > 13; day--) {
    const lots = ['ember', 'damson', 'coral', 'oyster', 'barley', 'garnet'].map((colour) => lot('elder', day, colour, 'first', 50))
    facts.push(...bench('elder', day, day % 2 === 0 ? 'full' : 'opening', ...lots.map(({ colour }) => `${colour} first 50 100`)))
    for (let line = 0; line < linesADay; line++) {
      const id = `y${day}-${line}`
      const buyer = `b${(day * linesADay + line) % buyers}`
      facts.push(...order(`o ${id}`, buyer, -day, [{ id, bunches, colours: [] }]), ...packed(`p ${id}`, id, buyer, -day, bunches, [[lots[line % 6]!, 10 * bunches]]))
      if (line === 0 && day % 3 === 0) {
        facts.push(...claimFacts({
          id: `c ${id}` as ClaimID, line: id as LineID, buyer: buyer as BuyerID, due: ago(day), lot: lots[0], stems: 10, reason: 'wilted', back: false, credit: 520 as Cents, what: '',
          date: ago(day - 1), person: '',
        }))
      }
    }
    facts.push(...shrink(`s ${day}`, lots[5]!, 50, 'too_old', day - 1))
  }
  return facts
}

it('pages open', { timeout: patience }, async () => {
  const { page, context } = await phones.add()
  await farm.admit(context)
  page.setDefaultTimeout(patience)
  await page.goto(`${farm.shed.url}/#/shed`)
  await page.getByText('Ready for the field').filter({ visible: true }).first().waitFor()
  await page.getByText('Needs a look').first().waitFor()
  const ember = encodeURIComponent(lotCell(lot('elder', 2, 'ember', 'first', 50)))
  for (const place of ['shed/cooler', `shed/lot/${ember}`, 'shed/claims', 'shed/claims/y100-0', 'shed']) {
    const times: number[] = []
    for (let again = 0; again < 5; again++) times.push(await opening(page, place))
    console.log(`${decodeURIComponent(place)}: ${times.map((ms) => Math.round(ms)).join(', ')} ms`)
  }
  await opening(page, 'shed/cooler')
  const taps: number[] = []
  for (let again = 0; again < 5; again++) {
    await page.locator('.cooler button.line').nth(1).click()
    taps.push(await page.evaluate(async () => {
      const from = performance.now()
      document.querySelector<HTMLElement>('.reasons .btn')!.click()
      while (document.querySelector('.undoable') === null) await new Promise(requestAnimationFrame)
      return performance.now() - from
    }))
    await page.locator('.undoable .btn').click()
    await page.locator('.undoable').waitFor({ state: 'detached' })
  }
  console.log(`a lot written off: ${taps.map((ms) => Math.round(ms)).join(', ')} ms`)
})

/** From another page until the frame after this one is drawn. */
async function opening(page: Awaited<ReturnType<Phones['add']>>['page'], place: string): Promise<number> {
  await page.evaluate(() => { location.hash = '#/shed/about' })
  await page.waitForTimeout(300)
  return page.evaluate(async (hash) => {
    const from = performance.now()
    location.hash = hash
    const title = document.querySelector('h1')?.textContent
    while (document.querySelector('h1')?.textContent === title || document.querySelector('h2') === null) await new Promise(requestAnimationFrame)
    await new Promise(requestAnimationFrame)
    return performance.now() - from
  }, `#/${place}`)
}
