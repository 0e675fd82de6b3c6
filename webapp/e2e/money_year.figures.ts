// How quickly the shed adds up the books of a year of 20,000 bunches: the first view after a change, which lays them, and
// then each view, filtered or not. Run by npm run --prefix webapp figures -- e2e/money_year.figures.ts; it needs Go, to
// write invoices as only a shed may.

import { execFileSync } from 'node:child_process'
import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { dayOf } from '../src/crop/day'
import { joinMany, whoIs } from './joining'
import { sold } from './sales_farm'
import { openShed, scratchFolder, type Shed } from './shed'
import { write } from './writer'

/** What a view may take, in milliseconds. */
const limit = 1_000
const rounds = 5
const today = dayOf(new Date())

const data = scratchFolder('money-year')
let shed: Shed
let reader = ''

beforeAll(async () => {
  shed = await openShed('serve', { data })
  const [writer, other] = await joinMany(shed, 2)
  reader = other!
  const { farm, person } = await whoIs(shed, reader)
  const year = sold(farm, person, today)
  await write(shed, farm, writer!, year.facts)
  await shed.stop()
  const args = ['test', './server/billing', '-run', 'BillsAFarmsYear', '-count=1', '-v', '-billing.farm', data]
  execFileSync('go', args, { cwd: join(import.meta.dirname, '../..') })
  await shed.start()
}, 600_000)

afterAll(async () => {
  await shed.close()
  rmSync(data, { recursive: true, force: true })
})

/** What was answered, and after how many milliseconds. */
async function timed(query: string): Promise<{ readonly took: number; readonly text: string }> {
  const begun = performance.now()
  const answer = await fetch(`${shed.url}/api/money${query}`, { headers: { cookie: reader } })
  const text = await answer.text()
  expect(answer.status, text).toBe(200)
  return { took: performance.now() - begun, text }
}

/** Asks what a plant is worth until it is drawn: on a busy machine that takes longer than one answer may. */
async function drawn(): Promise<number> {
  const begun = performance.now()
  while ((await fetch(`${shed.url}/api/money/worth`, { headers: { cookie: reader } })).status === 503);
  return performance.now() - begun
}

it('every view of the books is there in time', async () => {
  const first = await timed('')
  console.log(`the first view after a start, which reads the farm and lays the books: ${first.took.toFixed(0)} ms`)
  const said = JSON.parse(first.text) as { all: { bunches: number; gross_cents: number } }
  expect(said.all.bunches).toBeGreaterThan(9_000) // of the season's part of the year
  const slow: string[] = []
  for (const by of ['channel', 'buyer', 'colour', 'grade', 'length', 'age', 'age_class', 'stock', 'bed', 'plant', 'cut', 'day', 'week', 'month', 'what']) {
    for (const filter of ['', '&age_class=1', `&to=${today}&grade=first`]) {
      const times: number[] = []
      for (let round = 0; round < rounds; round++) times.push((await timed(`?by=${by}${filter}`)).took)
      times.sort((a, b) => a - b)
      console.log(`by ${by}${filter}: median ${times[2]!.toFixed(0)} ms, slowest ${times[4]!.toFixed(0)}`)
      if (times[2]! >= limit) slow.push(by + filter)
    }
  }
  console.log(`invoices: ${(await timed('/bills')).took.toFixed(0)} ms`)
  console.log(`worth, drawn: ${(await drawn()).toFixed(0)} ms; said again: ${(await timed('/worth')).took.toFixed(0)} ms`)
  expect(slow).toEqual([])
}, 600_000)
