// The main job: counting in the row with no signal, and bringing it to the shed.

import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Line, openLine } from './line'
import { type Phone, Phones } from './phone'
import { openShed, type Shed } from './shed'
import { calledOut, countHandful, everythingSent, listed, openWalk, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

async function phoneAt(url: string): Promise<Phone> {
  const phone = await phones.add()
  await phone.page.goto(url)
  return phone
}

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

describe('counting with no signal', () => {
  it('keeps counts and place through a reload and a killed browser, then reaches the shed and a second phone', async () => {
    const phone = await phones.addLasting()
    await phone.page.goto(shed.url)
    await sayWho(phone.page)
    await readyForField(phone.page)
    await shed.kill()
    await phone.page.reload()
    await openWalk(phone.page)
    const first = await countHandful(phone.page, 4)
    const next = await calledOut(phone.page)

    await phone.page.reload()
    await phone.page.locator('.code').waitFor()
    expect(await calledOut(phone.page)).toBe(next)
    expect(await listed(phone.page, first)).toMatch(/ 4$/)

    const second = await countHandful(phone.page, 7)
    const third = await calledOut(phone.page)
    await phone.killAndReopen(shed.url)
    await phone.page.locator('.code').waitFor()
    expect(await calledOut(phone.page)).toBe(third)
    expect(await listed(phone.page, second)).toMatch(/ 7$/)

    await shed.start()
    await everythingSent(phone.page)
    const other = await phoneAt(shed.url)
    await sayWho(other.page, 'Joaquín')
    await openWalk(other.page)
    expect(await listed(other.page, first)).toMatch(/ 4$/)
    expect(await listed(other.page, second)).toMatch(/ 7$/)
  })

  it('brings two open phones together while both count', async () => {
    const [a, b] = [await phoneAt(shed.url), await phoneAt(shed.url)]
    await sayWho(a.page, 'Maren')
    await sayWho(b.page, 'Joaquín')
    await openWalk(a.page)
    await openWalk(b.page)
    const byA = await countHandful(a.page, 3)
    await expect.poll(() => listed(b.page, byA), { timeout: 20_000 }).toMatch(/ 3$/)
    const byB = await countHandful(b.page, 5)
    await expect.poll(() => listed(a.page, byB), { timeout: 20_000 }).toMatch(/ [58]$/)
    expect(await listed(a.page, byB)).toBe(await listed(b.page, byB))
  })
})

describe('a breaking line', () => {
  let line: Line

  beforeAll(async () => {
    line = await openLine(shed.port)
  })

  afterAll(() => line.close())

  it('doubles nothing when the acknowledgement is lost after the commit', async () => {
    const phone = await phoneAt(line.url)
    await sayWho(phone.page)
    await everythingSent(phone.page)
    await openWalk(phone.page)
    const cut = line.loseNextAnswer()
    const plant = await countHandful(phone.page, 6)
    await cut
    await everythingSent(phone.page)
    const other = await phoneAt(shed.url)
    await sayWho(other.page, 'Tilda')
    await openWalk(other.page)
    const seen = await listed(other.page, plant)
    expect(seen).toBe(await listed(phone.page, plant))
    expect(seen).toMatch(/ 6$/)
  })
})

describe('the walk', () => {
  it('takes back what it says it takes back, and goes back to that plant', async () => {
    const phone = await phoneAt(shed.url)
    await sayWho(phone.page)
    await openWalk(phone.page, 'Elder')
    const before = await listed(phone.page, await calledOut(phone.page))
    const plant = await countHandful(phone.page, 9)
    await phone.page.getByRole('button', { name: `Take back 9 from ${plant}` }).click()
    await expect.poll(() => calledOut(phone.page)).toBe(plant)
    expect(await listed(phone.page, plant)).toBe(before)
  })

  it('records nothing here as a record of its own', async () => {
    const phone = await phoneAt(shed.url)
    await sayWho(phone.page)
    await openWalk(phone.page)
    const plant = await calledOut(phone.page)
    await phone.page.getByRole('button', { name: 'Nothing here' }).click()
    await expect.poll(() => calledOut(phone.page)).not.toBe(plant)
    expect(await listed(phone.page, plant)).toContain('nothing')
  })

  it('counts stem by stem on the grid', async () => {
    const phone = await phoneAt(shed.url)
    await sayWho(phone.page)
    await openWalk(phone.page)
    await phone.page.getByRole('button', { name: 'Count by grade and length' }).click()
    const cell = phone.page.getByRole('button', { name: /^first, 50 to 60 centimetres/ })
    const before = Number(await cell.innerText())
    for (let tap = 0; tap < 3; tap++) await cell.click()
    await expect.poll(async () => Number(await cell.innerText())).toBe(before + 3)
  })
})
