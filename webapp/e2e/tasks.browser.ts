// Tasks and the weather on a phone with no signal: done with one tap, put off, typed, taken from a file, sent to a calendar.

import ICAL from 'ical.js'
import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bedFacts, farmFacts, personFacts, plantFacts, plantingFacts, stockFacts, visitFacts } from '../src/crop/facts'
import type { BedID, Day, FarmID, PlantID, PlantingID, Season, StockID, VisitID } from '../src/crop/nouns'
import { untoldLength } from '../src/crop/nouns'
import { bedWith, plantingWith, plantWith, stockWith, visitWith } from '../src/crop/testing/nouns'
import type { Fact } from '../src/log/change'
import { violationsAlong } from './accessible'
import { joinMany, whoIs } from './joining'
import { Phones, setClock } from './phone'
import { openShed, type Shed } from './shed'
import { everythingSent, go, readyForField } from './walk'
import { admit, write } from './writer'

let shed: Shed
let reader: string
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('serve')
  const [writer, other] = await joinMany(shed, 2)
  if (writer === undefined || other === undefined) throw new Error('two devices were to join')
  reader = other
  const { farm, person } = await whoIs(shed, reader)
  await write(shed, farm, writer, [...personFacts({ id: person, name: 'Ilse' }), ...ground(farm)])
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** Two beds of two stands, whose first cuts came on 20 May of the year before. */
function ground(farm: FarmID): Fact[] {
  const stock = 's' as StockID
  const bed = (name: string): Fact[] => [
    ...bedFacts(bedWith({ id: name as BedID, name })),
    ...plantingFacts(plantingWith({ id: name as string as PlantingID, stock, bed: name as BedID, planted: '2024-03-18' as Day, firstSeason: 2024 as Season })),
    ...[1, 2].flatMap((number) => plantFacts(plantWith({ id: `${name} ${number}` as PlantID, code: `${name}-${number}`, planting: name as string as PlantingID, line: 1, number }))),
    ...visitFacts(visitWith({ id: `${name} cut` as VisitID, plant: `${name} 1` as PlantID, date: '2025-05-20' as Day, counts: [{ colour: '', grade: '', length: untoldLength, stems: 9 }] })),
  ]
  return [
    ...farmFacts({ id: farm, name: 'Made-up beds', unit: 'cm', calendar: { start: '01-01', southern: false } }),
    ...stockFacts(stockWith({ id: stock, name: 'Made-up mix' })), ...bed('North'), ...bed('South'),
  ]
}

/** What the shed would say on that day of when the first cuts come. */
const forecast = {
  arrival: 1, asof: '2026-04-26', season: 2026, weeks: [], draws: { n: 0, from: '2026-04-27', weeks: [], colours: [], lengths: [0], coded: '' },
  first_cuts: [{ stock: 's', flush: 'spring', q05: '2026-05-12', q50: '2026-05-18', q95: '2026-05-26', chance: 0.97 }],
  scores: { weeks: [], crps: 0, again: null, year: null, pooled: null, inside: 0, n: 0 },
}

/** A phone on whose calendar it is the morning of 27 April 2026: nets are due, whatever day it really is. */
async function phone({ forecasts = false } = {}): Promise<Page> {
  const { page, context } = await phones.add({ touch: true })
  // What the shed itself forecasts is of the day that it really is.
  await context.route('**/api/forecast*', (asked) => (forecasts ? asked.fulfill({ json: forecast }) : asked.fulfill({ status: 503 })))
  await setClock(context, Date.UTC(2026, 3, 27, 9))
  await admit(context, shed, reader)
  await page.goto(shed.url)
  await page.getByRole('navigation').first().waitFor()
  await readyForField(page)
  return page
}

async function openTasks(page: Page): Promise<void> {
  await go(page, 'ahead/tasks')
  await page.getByRole('heading', { name: 'Tasks', exact: true }).waitFor()
}

async function offline<T>(page: Page, what: () => Promise<T>): Promise<T> {
  await page.context().setOffline(true)
  try {
    return await what()
  } finally {
    await page.context().setOffline(false)
  }
}

const netting = (page: Page) => page.locator('.task-kind', { hasText: 'Net or corral' })
const undo = (page: Page) => page.getByRole('button', { name: 'Undo' })

describe('a task', () => {
  it('is done with one tap and no signal, tells the bed too, is undone, and reaches the other phones', async () => {
    const page = await phone()
    await openTasks(page)
    await netting(page).getByText('First cut around 20 May, as in earlier seasons.').first().waitFor()
    await offline(page, async () => {
      await page.getByRole('button', { name: 'Netted: North' }).click()
      await page.getByText('Net or corral, North: Netted.').first().waitFor()
      await undo(page).click()
      await page.getByRole('button', { name: 'Netted: North' }).click()
      await page.getByText('Net or corral, North: Netted.').first().waitFor()
      await page.reload()
      await netting(page).getByText('South').waitFor()
      expect(await netting(page).getByText('North').count()).toBe(0)
      await go(page, 'beds/bed/North')
      await page.locator('.bed-events .rows').getByText('Netted').waitFor()
    })
    await go(page, 'shed')
    await everythingSent(page)
    const other = await phone()
    await go(other, 'beds/bed/North')
    await other.locator('.bed-events .rows').getByText('Netted').waitFor()
  })

  it('is put off, comes back, is left out for this season and taken up again', async () => {
    const page = await phone()
    await openTasks(page)
    await page.getByRole('button', { name: 'More: Net or corral, South' }).click()
    await page.getByRole('button', { name: 'In 3 days' }).click()
    await page.locator('.task.coming', { hasText: 'Net or corral: South' }).getByText('put off to Thu 30 April').waitFor()
    await undo(page).click()
    await page.getByRole('button', { name: 'Netted: South' }).waitFor()
    await page.getByRole('button', { name: 'More: Net or corral, South' }).click()
    await page.getByRole('button', { name: 'Not this season' }).click()
    await page.locator('.past summary').click()
    const past = page.locator('.task.dropped', { hasText: 'Net or corral: South' })
    await past.getByRole('button', { name: /^More/ }).click()
    await past.getByRole('button', { name: 'Do it after all' }).click()
    await page.getByRole('button', { name: 'Netted: South' }).waitFor()
  })

  it('stands by its bed in the row, and is done there', async () => {
    const page = await phone()
    await go(page, 'row')
    await page.getByText(/^To do: .*Net or corral/).first().waitFor()
    await page.getByRole('link', { name: 'Walks through South' }).click()
    await page.getByRole('button', { name: 'Corralled: Net or corral' }).click()
    await page.getByText('Net or corral, South: Corralled.').first().waitFor()
    await undo(page).click()
    await page.getByRole('button', { name: 'Corralled: Net or corral' }).waitFor()
  })

  it('may be in the grower’s own words', async () => {
    const page = await phone()
    await openTasks(page)
    await page.getByRole('button', { name: 'Add a task' }).click()
    await page.getByLabel('What is to be done').fill('Fetch nets; 3 rolls')
    await page.getByLabel('On which day, if you like').fill('2026-05-02')
    await page.getByRole('button', { name: 'Save', exact: true }).click()
    await page.locator('.task.coming', { hasText: 'Fetch nets; 3 rolls' }).waitFor()
  })

  it('goes by the forecast, where there is one, and by that kept of it with no signal', async () => {
    const page = await phone({ forecasts: true })
    await openTasks(page)
    const why = netting(page).getByText(/^First cut of Made-up mix likely 12\D+26 May\.$/).first()
    await why.waitFor()
    await offline(page, async () => {
      await page.reload()
      await why.waitFor()
    })
  })

  it('goes to the calendar, in which another program finds it', async () => {
    const page = await phone()
    await openTasks(page)
    await netting(page).waitFor()
    const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'To the calendar' }).click()])
    expect(file.suggestedFilename()).toBe('made-up-beds-tasks.ics')
    const events = new ICAL.Component(ICAL.parse(readFileSync(await file.path(), 'utf8')) as unknown[]).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one))
    const net = events.find(({ summary }) => summary === 'Net or corral: South')
    expect([net?.startDate.toString(), net?.endDate.toString(), net?.startDate.isDate]).toEqual(['2026-04-12', '2026-05-04', true])
    expect(net?.description).toContain('First cut around 20 May, as in earlier seasons.')
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length)
  })
})

describe('the weather', () => {
  const typing = (page: Page) => page.locator('.weather-typing')

  async function openWeather(page: Page): Promise<void> {
    await go(page, 'ahead/weather')
    await page.getByRole('heading', { name: 'Weather', exact: true }).waitFor()
  }

  it('of a day is typed on keys of its own, below zero too, with no signal', async () => {
    const page = await phone()
    await openWeather(page)
    await offline(page, async () => {
      for (const key of ['Minus', '1', '.', '5', 'Next', '1', '2', 'Save']) await typing(page).getByRole('button', { name: key, exact: true }).click()
      await page.getByText('Sun 26 April: −1.5 °C to 12 °C.').first().waitFor()
      await page.locator('.weather-days').getByText('−1.5 °C to 12 °C').waitFor()
      // On to the next day that is missing.
      await typing(page).getByRole('button', { name: 'Today', pressed: true }).waitFor()
      for (const key of ['9', 'Next', '3', 'Save']) await typing(page).getByRole('button', { name: key, exact: true }).click()
      await typing(page).getByRole('alert').getByText('The lowest is above the highest').waitFor()
    })
  })

  it('comes from a file: what is wrong by line, what it would do, then at once, and undone', async () => {
    const page = await phone()
    await openWeather(page)
    const pick = (text: string) => page.locator('.weather-file input').setInputFiles({ name: 'weather.csv', mimeType: 'text/csv', buffer: Buffer.from(text) })
    await pick('date,tmin,tmax\n2026-04-20,9 C,12\n2026-04-29,1,2\n')
    await page.getByText('Line 2, tmin: “9 C” is not a temperature').waitFor()
    await page.getByText('Line 3, date: 2026-04-29 lies ahead').waitFor()
    await pick(`date,tmin,tmax,wind\n${[20, 21, 24, 25, 26].map((day) => `2026-04-${day},${day / 10},${day}.5,1`).join('\n')}\n`)
    await page.getByText('New: 4. Changed: 1. As they stand: 0.').waitFor()
    await page.getByText('Sun 26 April: −1.5 °C to 12 °C becomes 2.6 °C to 26.5 °C').waitFor()
    await page.getByRole('button', { name: 'Write 5 days' }).click()
    await page.getByText(/^2 days are missing, 22\D+23 Apr$/).waitFor()
    await undo(page).click()
    await page.locator('.weather-days').getByText('−1.5 °C to 12 °C').waitFor()
  })
})

it('everybody can use these pages, in either theme', async () => {
  const page = await phone()
  const found = await violationsAlong(page, [
    ['tasks', async () => {
      await openTasks(page)
      await page.locator('.past summary').click()
      await page.getByRole('button', { name: /^More/ }).first().click()
    }],
    ['an own task', () => page.getByRole('button', { name: 'Add a task' }).click()],
    ['the weather', async () => {
      await go(page, 'ahead/weather')
      await page.getByText('How warmth is reckoned').click()
      await page.locator('.weather-file input').setInputFiles({ name: 'w.csv', mimeType: 'text/csv', buffer: Buffer.from('date,tmin,tmax\n2026-04-20,9,x\n') })
    }],
    ['a file that can be taken', () => page.locator('.weather-file input').setInputFiles({ name: 'w.csv', mimeType: 'text/csv', buffer: Buffer.from('date,tmin,tmax\n2026-04-20,9,12\n2026-04-22,9,12\n') })],
    ['the file taken', async () => {
      await page.getByRole('button', { name: 'Write 2 days' }).click()
      await page.locator('.warmth-chart').waitFor()
    }],
    ['a bed’s walks', () => go(page, 'row/walks/South')],
  ])
  expect(found).toEqual([])
})
