// Phones that join with an invitation, what their role lets them do, and what becomes of one that is
// withdrawn. The owner's phone is let in by the demo itself.

import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Phones, type PhoneOptions } from './phone'
import { openShed, type Shed } from './shed'
import { countHandful, everythingSent, go, listed, openWalk, sayWho } from './walk'

let shed: Shed
let owner: Page
const phones = new Phones()

beforeAll(async () => {
  shed = await openShed('demo')
  owner = (await phones.add()).page
  await owner.goto(shed.url)
  await sayWho(owner)
  await openWalk(owner)
})

afterAll(async () => {
  await phones.close()
  await shed.close()
})

/** Makes an invitation on the owner's phone and leaves it open there; gives its code. */
async function invite(name: string, role: 'Owner' | 'Crew' | 'Looks on'): Promise<string> {
  await go(owner, 'row')
  await go(owner, 'shed/devices')
  await owner.getByRole('button', { name: 'Invite a phone' }).click()
  await owner.getByRole('textbox', { name: 'Their name' }).fill(name)
  // One who is there already joins as before.
  const choice = owner.getByRole('button', { name: new RegExp(`^${role}`) })
  if (await choice.isVisible()) await choice.click()
  await owner.getByRole('button', { name: 'Make the invitation' }).click()
  await owner.getByRole('img', { name: 'QR code of the invitation’s link' }).waitFor()
  return (await owner.locator('.code-large').innerText()).trim()
}

async function openAt(hash: string, options: PhoneOptions = {}): Promise<Page> {
  const { page } = await phones.add(options)
  await page.goto(`${shed.url}/${hash}`)
  return page
}

async function join(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Join', exact: true }).click()
  await page.getByRole('heading', { name: /^Joined/ }).waitFor()
  await page.getByRole('button', { name: 'Start' }).click()
  await page.getByRole('navigation').first().waitFor()
}

function plain(code: string): string {
  return code.replace('-', '')
}

describe('an invitation', () => {
  it('lets a phone in by its link, leaves no code in address or history, and says on the owner’s phone who came', async () => {
    const code = await invite('Ilse', 'Crew')
    const page = await openAt(`#join/${plain(code)}`)
    await expect.poll(() => page.getByRole('textbox', { name: 'Code of the invitation' }).inputValue()).toBe(code)
    const { entries } = await (await page.context().newCDPSession(page)).send('Page.getNavigationHistory')
    expect(entries.map(({ url }) => url).join()).not.toContain(plain(code))
    await join(page)
    await owner.getByText(/^Ilse has joined/).waitFor()
    await openWalk(page)
    const plant = await countHandful(page, 4)
    await everythingSent(page)
    await expect.poll(() => listed(owner, plant)).toMatch(/ 4$/)
  })

  it('works typed in small letters with spaces, and once', async () => {
    const code = await invite('Ilse', 'Crew')
    const page = await openAt('#/join')
    const field = page.getByRole('textbox', { name: 'Code of the invitation' })
    await field.fill(plain(code).toLowerCase().replace(/(..)/g, '$1 '))
    await join(page)
    const other = await openAt(`#join/${plain(code)}`)
    await other.getByRole('button', { name: 'Join', exact: true }).click()
    await other.getByRole('alert').filter({ hasText: 'used already' }).waitFor()
  })

  it('that is taken back lets nobody in', async () => {
    const code = await invite('Ilse', 'Crew')
    await owner.getByRole('button', { name: 'Take it back' }).click()
    await owner.getByRole('button', { name: 'Invite a phone' }).waitFor()
    const page = await openAt(`#join/${plain(code)}`)
    await page.getByRole('button', { name: 'Join', exact: true }).click()
    await page.getByRole('alert').filter({ hasText: 'Nothing has changed on this phone' }).waitFor()
  })

  it('says on an iPhone to put the app on the home screen first', async () => {
    const userAgent = 'Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Mobile/15E148 Safari/604.1'
    const page = await openAt('#join/ABCDEFGH', { userAgent })
    await page.getByRole('heading', { name: 'First to the home screen' }).waitFor()
    await page.getByText('ABCD-EFGH').waitFor()
    await page.getByRole('button', { name: 'Join here anyway' }).click()
    await page.getByRole('textbox', { name: 'Code of the invitation' }).waitFor()
  })
})

describe('roles', () => {
  it('crew count, and are offered nothing that is the owners’', async () => {
    const page = await openAt(`#join/${plain(await invite('Ilse', 'Crew'))}`)
    await join(page)
    await go(page, 'beds')
    await page.getByRole('link', { name: /^Elder/ }).click()
    await page.getByText('An owner chooses the counted plants').waitFor()
    expect(await page.getByRole('checkbox').count()).toBe(0)
    await go(page, 'shed')
    await page.getByRole('heading', { name: 'Bench total' }).waitFor()
    expect(await page.getByRole('link', { name: 'Phones and people' }).count()).toBe(0)
  })

  it('one who looks on counts nothing until an owner changes that, without opening the app anew', async () => {
    const page = await openAt(`#join/${plain(await invite('Odo', 'Looks on'))}`)
    await join(page)
    await page.getByRole('heading', { name: 'Today', exact: true }).waitFor()
    await go(page, 'row')
    await page.getByText('This phone only looks on.').waitFor()
    await owner.getByText(/^Odo has joined/).waitFor()
    await owner.getByRole('button', { name: 'Close' }).click()
    await owner.getByRole('button', { name: 'Change Odo' }).click()
    await owner.getByRole('button', { name: /^Crew/ }).click()
    await owner.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('heading', { name: 'Which bed?' }).waitFor()
  })

  it('the last owner stays one', async () => {
    await go(owner, 'row')
    await go(owner, 'shed/devices')
    await owner.locator('section').filter({ hasText: 'this is you' }).getByRole('button', { name: /^Change/ }).click()
    await owner.getByRole('button', { name: /^Crew/ }).click()
    await owner.getByRole('button', { name: 'Save' }).click()
    await owner.getByRole('alert').filter({ hasText: 'the farm needs an owner' }).waitFor()
    await owner.getByRole('button', { name: 'Cancel' }).click()
  })
})

describe('a phone that is withdrawn', () => {
  it('says so with no signal too, goes on storing, saves to a file, and sends all once it has joined again', async () => {
    const page = await openAt(`#join/${plain(await invite('Wim', 'Crew'))}`)
    await join(page)
    await everythingSent(page)
    await owner.getByText(/^Wim has joined/).waitFor()
    await owner.getByRole('button', { name: 'Close' }).click()
    await owner.getByRole('button', { name: /^Withdraw .*, Wim$/ }).click()
    await owner.getByRole('button', { name: 'Withdraw it' }).click()
    await page.getByText('Withdrawn: nothing is sent.').waitFor()

    await openWalk(page)
    const plant = await countHandful(page, 8)
    await shed.kill()
    await page.reload()
    await page.getByText('Withdrawn: nothing is sent.').waitFor()
    expect(await listed(page, plant)).toMatch(/ 8$/)
    await go(page, 'shed')
    const saving = page.waitForEvent('download')
    // What is wrong comes before the day's work.
    await page.locator('.shed > .first').getByRole('button', { name: 'Save what is unsent to a file' }).click()
    expect((await saving).suggestedFilename()).toMatch(/\.jsonl$/)

    await shed.start()
    const code = await invite('Wim', 'Crew')
    await go(page, 'join')
    await page.getByRole('textbox', { name: 'Code of the invitation' }).fill(code)
    await join(page)
    await everythingSent(page)
    // The owner's own line to a shed that was away is tried again after half a minute at most.
    await expect.poll(() => listed(owner, plant), { timeout: 45_000 }).toMatch(/ 8$/)
  })
})

describe('a person who is withdrawn', () => {
  it('is out with every device at once, and nobody else is', async () => {
    const pages: Page[] = []
    for (const _ of ['phone', 'tablet']) {
      const page = await openAt(`#join/${plain(await invite('Nele', 'Crew'))}`)
      await join(page)
      await owner.getByText(/^Nele has joined/).waitFor()
      await owner.getByRole('button', { name: 'Close' }).click()
      pages.push(page)
    }
    const card = owner.locator('section').filter({ has: owner.getByRole('heading', { name: 'Nele' }) })
    await card.getByRole('button', { name: 'Withdraw all devices of Nele' }).click()
    await card.getByRole('button', { name: 'Cancel' }).click()
    await card.getByRole('button', { name: 'Withdraw all devices of Nele' }).click()
    await card.getByRole('button', { name: 'Withdraw them all' }).click()
    await card.getByText('Withdrawn: 2', { exact: true }).waitFor()
    for (const page of pages) await page.getByText('Withdrawn: nothing is sent.').waitFor()
    await owner.getByText('Connected now').first().waitFor()
  })
})

describe('a phone that leaves', () => {
  it('is told what that means, keeps what it holds, and joins again; the last owner cannot', async () => {
    const farm = await openShed('serve')
    try {
      const first = (await phones.add()).page
      await first.goto(`${farm.url}/#join/${farm.firstCode}`)
      await first.getByRole('button', { name: 'Join', exact: true }).click()
      await first.getByRole('textbox', { name: 'Your name' }).fill('Ana')
      await first.getByRole('textbox', { name: 'Name of the farm' }).fill('Hill farm')
      await first.getByRole('button', { name: 'Begin' }).click()
      await go(first, 'shed/settings')
      await first.getByRole('link', { name: 'Leave this farm' }).click()
      await first.getByRole('button', { name: 'Leave', exact: true }).click()
      await first.getByRole('alert').filter({ hasText: 'the farm needs an owner' }).waitFor()

      const invited = () => first.evaluate(async () => {
        const body = JSON.stringify({ person: '6f1c9d0e-52a5-4a55-9b43-7f4f5a1d2c3b', name: 'Ben', role: 'crew' })
        const answer = await fetch('/api/invitations', { method: 'POST', headers: { 'content-type': 'application/json' }, body })
        return ((await answer.json()) as { code: string }).code
      })
      const page = (await phones.add()).page
      await page.goto(`${farm.url}/#join/${plain(await invited())}`)
      await join(page)
      await go(page, 'shed/settings')
      await page.getByRole('link', { name: 'Leave this farm' }).click()
      await page.getByText('Leave Hill farm with this phone?').waitFor()
      await page.getByText('Everything recorded on this phone has reached the shed.').waitFor()
      await page.getByRole('button', { name: 'Leave', exact: true }).click()
      await page.getByText('This phone has left Hill farm.').waitFor()
      await go(first, 'shed/devices')
      await first.getByText('Withdrawn: 1', { exact: true }).waitFor()

      await page.reload()
      await go(page, 'row')
      await page.getByText('Not joined: nothing is sent.').waitFor()
      await go(page, 'join')
      await page.getByRole('textbox', { name: 'Code of the invitation' }).fill(await invited())
      await join(page)
      await go(page, 'row')
      await expect.poll(() => page.getByText('Not joined: nothing is sent.').count()).toBe(0)
    } finally {
      await farm.close()
    }
  })
})
