// Every page under axe-core, light and dark, in both languages; and what is said where the browser
// cannot keep a notebook.

import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Reached, violationsAlong } from './accessible'
import { Phones } from './phone'
import { openShed, type Shed } from './shed'
import { countedBed, go, openWalk, readyForField, sayWho } from './walk'

let shed: Shed
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** What scrolls sideways: the page, and whatever in it has a scroller of its own. */
async function sideways(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const scrolls = (element: Element) => element === document.documentElement || /auto|scroll/.test(getComputedStyle(element).overflowX)
    return [document.documentElement, ...document.querySelectorAll('main *')]
      .filter((element) => scrolls(element) && element.scrollWidth > element.clientWidth)
      .map((element) => `${element.ariaLabel ?? element.tagName} by ${element.scrollWidth - element.clientWidth} px`)
  })
}

/** What is tapped and smaller than a fingertip. */
async function smallTargets(page: Page): Promise<string[]> {
  return page.evaluate(() => [...document.querySelectorAll('main :is(a, button, summary)')]
    .map((element) => ({ name: element.textContent, box: element.getBoundingClientRect() }))
    .filter(({ box }) => box.width > 0 && Math.min(box.width, box.height) < 44)
    .map(({ name, box }) => `${name}: ${box.width} by ${box.height} px`))
}

/** How many rows and cells of tables the browser tells to who does not see them. */
async function tableParts(page: Page): Promise<{ rows: number; cells: number }> {
  const session = await page.context().newCDPSession(page)
  const { nodes } = await session.send('Accessibility.getFullAXTree')
  const told = (role: string) => nodes.filter((node) => !node.ignored && node.role?.value === role).length
  return { rows: told('row'), cells: told('cell') + told('gridcell') }
}

/** Unfolds everything on a page. */
async function openAll(page: Page): Promise<void> {
  const closed = page.locator('details:not([open]) > summary')
  while ((await closed.count()) > 0) await closed.first().click()
}

/** Pages by how one gets there. */
const pages: readonly Reached[] = [
  ['choosing a bed', (page) => go(page, 'row')],
  ['the walk', (page) => openWalk(page)],
  ['the grid', (page) => page.getByRole('button', { name: 'Count by grade and length' }).click()],
  ['another length', (page) => page.getByRole('button', { name: 'Another length' }).click()],
  ['locked', async (page) => {
    await page.getByRole('button', { name: 'Count by one number' }).click()
    await page.getByRole('button', { name: 'Lock for the pocket' }).click()
  }],
  ['the end of a walk', async (page) => {
    await page.getByRole('button', { name: 'Hold to unlock' }).press('Enter', { delay: 1300 })
    await go(page, 'row/plants')
    await page.getByRole('button', { name: 'Close the bed', exact: false }).first().click()
  }],
  ['the list of a walk', (page) => go(page, 'row/plants')],
  ['the cut list', async (page) => {
    await go(page, 'row/cuts')
    await page.getByRole('heading', { name: 'Cut list' }).waitFor()
  }],
  ['taking care', (page) => go(page, 'row/care')],
  ['the shed', (page) => go(page, 'shed')],
  ['what is sent, by the sign', async (page) => {
    await page.locator('.chip').first().click()
    await page.getByRole('heading', { level: 1, name: 'Sent and safe' }).waitFor()
  }],
  ['the pencil sheet', async (page) => {
    await go(page, 'shed/sheet')
    await page.locator('.sheet-page select').selectOption({ label: countedBed })
    await page.locator('.sheet-typing').waitFor()
  }],
  ['settings', (page) => go(page, 'shed/settings')],
  ['the keys', async (page) => {
    await go(page, 'shed/keys')
    await page.getByRole('button', { name: 'Choose a key: take back' }).click()
  }],
  ['leaving', (page) => go(page, 'shed/leave')],
  ['phones and people', async (page) => {
    await go(page, 'shed/devices')
    await page.getByRole('button', { name: /^Change Maren/ }).click()
  }],
  ['inviting', async (page) => {
    await page.getByRole('button', { name: 'Invite a phone' }).click()
    await page.getByRole('textbox', { name: 'Their name' }).fill('Ilse')
  }],
  ['an invitation', async (page) => {
    await page.getByRole('button', { name: 'Make the invitation' }).click()
    await page.getByRole('img', { name: 'QR code of the invitation’s link' }).waitFor()
  }],
  ['joining', (page) => go(page, 'join')],
  ['about', async (page) => {
    await go(page, 'shed/about')
    await page.getByText('preact', { exact: true }).click()
    await page.getByText(/^LICENSE:/).waitFor()
  }],
  ['the beds', (page) => go(page, 'beds')],
  ['a bed', async (page) => {
    await go(page, 'beds')
    await page.getByRole('link', { name: /^Gate/ }).click()
  }],
  ['a spray', async (page) => {
    await page.getByRole('button', { name: 'Sprayed', exact: true }).click()
  }],
  ['printing tags', async (page) => {
    await page.getByRole('link', { name: 'Print tags' }).click()
    await page.getByRole('heading', { name: 'Tags for Gate' }).waitFor()
  }],
  ['a plant', async (page) => {
    await page.goBack()
    await page.locator('.plants li:has(:checked) a').first().click()
    await page.getByText('History, or put it right').first().click()
  }],
  ['dividing it', async (page) => {
    await page.getByRole('link', { name: 'Divide', exact: true }).click()
    await page.getByRole('button', { name: 'Moved', exact: true }).click()
    await page.getByRole('button', { name: /^line \d+, \d+: free/ }).first().click()
  }],
  ['entering a seedling by it', async (page) => {
    await page.goBack()
    await page.getByRole('link', { name: 'A seedling came up here' }).click()
    await page.getByRole('button', { name: 'In a gap of this bed' }).click()
  }],
  ['scanning a tag', async (page) => {
    await go(page, 'beds/scan')
    await page.getByText('No camera was found on this device.').waitFor()
  }],
  ['ages', async (page) => {
    await go(page, 'beds/ages')
    await page.locator('.chart').first().waitFor()
  }],
  ['ages, everything open', async (page) => {
    await openAll(page)
    await page.getByRole('button', { name: 'Set out' }).click()
  }],
  ['the stand’s colour', async (page) => {
    await go(page, 'beds/colour')
    await page.locator('.colour-plane').waitFor()
    await page.locator('.colour-plane').click({ position: { x: 160, y: 160 } })
  }],
  ['the stand’s colour, everything open', async (page) => {
    await page.getByRole('button', { name: 'Pale and deep, dark and light' }).click()
    await openAll(page)
    await page.getByRole('button', { name: 'Another colour' }).click()
    await page.getByRole('textbox', { name: 'or as #rrggbb' }).fill('#cc7788')
  }],
  ['what to keep, divide and lift', async (page) => {
    await go(page, 'beds/lists')
    await page.locator('.lists').waitFor()
    await openAll(page)
  }],
  ['colour classes', (page) => go(page, 'beds/classes')],
  ['a colour class', async (page) => {
    await page.getByRole('link', { name: /^coral/ }).click()
    await page.getByRole('button', { name: 'From a plant' }).click()
  }],
  ['a new colour class', async (page) => {
    await go(page, 'beds/classes/new')
    await page.getByRole('button', { name: 'By hand' }).click()
  }],
  ['the counting plan', async (page) => {
    await go(page, 'beds/plan')
    await page.locator('.plan summary').click()
  }],
  ['today', (page) => go(page, 'start')],
  ['stocks', (page) => go(page, 'beds/stocks')],
  ['a stock', async (page) => {
    await page.locator('.rows a').first().click()
    await page.getByRole('checkbox').check()
  }],
  ['a new bed', (page) => go(page, 'beds/new')],
  ['a bed that is changed', async (page) => {
    await go(page, 'beds')
    await page.getByRole('link', { name: /^Gate/ }).click()
    await page.getByRole('link', { name: 'Change the bed' }).click()
  }],
  ['planting a tray', async (page) => {
    await go(page, 'beds/tray')
    await page.getByRole('button', { name: 'Another first season' }).click()
    await page.getByRole('combobox', { name: 'What is planted' }).selectOption('A new stock')
    await page.getByRole('textbox', { name: 'Name of the stock' }).fill('Seedlings')
    await page.locator('.tray summary').click()
  }],
]

it('axe-core finds nothing on any page, light and dark, on a phone and on a laptop', async () => {
  const { page } = await phones.add()
  await page.goto(shed.url)
  await sayWho(page)
  expect(await violationsAlong(page, pages)).toEqual([])
}, 400_000)

describe.each([['English', 'en-GB'], ['Spanish', 'es-MX']] as const)('ages and the counting plan on a phone 360 px wide, in %s', (_, locale) => {
  it('fit the screen with every table, which stays a table, and leave room for a finger', async () => {
    const { page } = await phones.add({ locale })
    await page.goto(shed.url)
    await sayWho(page)
    await go(page, 'beds/ages')
    await page.locator('.chart').first().waitFor()
    await openAll(page)
    for (const per of await page.locator('.choices.three button').all()) {
      await per.click()
      expect(await sideways(page)).toEqual([])
    }
    expect(await smallTargets(page)).toEqual([])
    const drawn = '.ages tbody:not([aria-hidden])'
    expect(await tableParts(page)).toEqual({
      rows: await page.locator(`.ages thead tr, ${drawn} tr`).count(), cells: await page.locator(`${drawn} td`).count(),
    })

    await go(page, 'beds/plan')
    await page.locator('.plan summary').click()
    expect(await sideways(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])
  })
})

const fields = ['beds/stocks', 'beds/stocks/new', 'beds/new', 'beds/tray'] as const
const colours = ['beds/colour', 'beds/lists', 'beds/classes', 'beds/classes/new'] as const

describe.each([
  ['English', 'en-GB', 16, [...colours, ...fields]],
  ['Spanish', 'es-MX', 16, [...colours, ...fields]],
  ['English, letters twice as large', 'en-GB', 32, fields],
] as const)('planting and the stand’s colour on a phone 360 px wide, in %s', (_, locale, letters, places) => {
  let page: Page

  beforeAll(async () => {
    page = (await phones.add({ locale })).page
    await page.goto(shed.url)
    await sayWho(page)
    await page.evaluate((px) => { document.documentElement.style.fontSize = `${px}px` }, letters)
  })

  it.each(places)('%s fits the screen with every table, and leaves room for a finger', async (place) => {
    const heading = page.locator('main h1').first()
    const before = await heading.innerText()
    await go(page, place)
    await expect.poll(() => heading.innerText()).not.toBe(before)
    if (place === 'beds/colour') await page.locator('.colour-plane').waitFor()
    await openAll(page)
    expect(await sideways(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])
  })
})

describe('where no notebook can be kept', () => {
  it('says so before the first tap when storage is denied', async () => {
    const phone = await phones.add()
    await phone.page.addInitScript(() => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('denied', 'SecurityError')
      }
    })
    await phone.page.goto(shed.url)
    await phone.page.getByRole('heading', { name: 'This browser keeps nothing' }).waitFor()
    expect(await phone.page.locator('.handful').count()).toBe(0)
  })

  it('says in a second tab that the first has the notebook, and moves when asked', async () => {
    const phone = await phones.add()
    await phone.page.goto(shed.url)
    await sayWho(phone.page)
    const second = await phone.context.newPage()
    await second.goto(shed.url)
    await second.getByRole('heading', { name: 'Corymb is open in another tab' }).waitFor()
    await second.getByRole('button', { name: 'Use this tab' }).click()
    await openWalk(second)
    await phone.page.getByRole('heading', { name: 'Corymb moved to another tab' }).waitFor()
  })

  it('says so when the phone never saw the shed and cannot reach it', async () => {
    const phone = await phones.add()
    await phone.page.route('**/api/**', (route) => route.abort())
    await phone.page.goto(shed.url)
    await phone.page.getByRole('heading', { name: 'No farm on this phone yet' }).waitFor()
  })
})

describe('Spanish', () => {
  it('speaks the language of the device from the first screen on', async () => {
    const phone = await phones.add({ locale: 'es-MX' })
    await phone.page.goto(shed.url)
    await phone.page.getByRole('heading', { name: 'Hoy' }).waitFor()
    expect(await phone.page.evaluate(() => document.documentElement.lang)).toBe('es')
  })
})

describe('about', () => {
  it('lists what is in the program and shows its licence, and says in words that the shed is out of reach', async () => {
    const phone = await phones.add()
    await phone.page.goto(shed.url)
    await sayWho(phone.page)
    await readyForField(phone.page)
    await go(phone.page, 'shed/settings')
    await phone.page.getByRole('link', { name: 'About Corymb' }).click()
    await phone.page.getByText('gorm.io/gorm', { exact: true }).waitFor()
    await phone.page.getByText(/atkinson-hyperlegible/).click()
    await phone.page.getByText(/SIL OPEN FONT LICENSE/).first().waitFor()
    await shed.kill()
    await phone.page.reload()
    await phone.page.getByText('it is out of reach or did not answer', { exact: false }).waitFor()
    await shed.start()
    await phone.page.getByText('gorm.io/gorm', { exact: true }).waitFor()
  })
})

describe('ages', () => {
  it('reads offline what the last sync brought, folded as it was left, saves it as a file, and says it of the plant', async () => {
    const phone = await phones.add()
    await phone.page.goto(shed.url)
    await sayWho(phone.page)
    await readyForField(phone.page)
    await go(phone.page, 'beds/ages')
    const sentence = phone.page.locator('.say').first()
    const chart = phone.page.locator('.chart').first() // there with the shed's answer, not while it is asked
    await chart.waitFor()
    await phone.page.getByText('The best plants').click()
    const best = phone.page.locator('.ages-section .bed-link').first()
    const [online, code] = [await sentence.innerText(), await best.innerText()]
    await shed.kill()
    await phone.page.reload()
    await chart.waitFor()
    expect(await sentence.innerText()).toBe(online)
    expect(await best.innerText()).toBe(code)
    const saving = phone.page.waitForEvent('download')
    await phone.page.getByRole('button', { name: 'Save these numbers (CSV)' }).click()
    const file = readFileSync(await (await saving).path(), 'utf8')
    expect(file.startsWith('\uFEFFcrop,what,')).toBe(true)
    expect(file).toContain(`"in the best tenth","","","","","","${code}"`)
    await best.click()
    await phone.page.getByText(/that it is in the best tenth/).waitFor()
    await shed.start()
  })
})
