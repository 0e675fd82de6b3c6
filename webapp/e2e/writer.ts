// A phone of its own that writes facts into a shed's farm, for farms that are larger than a test could tap.

import type { BrowserContext } from 'playwright-core'
import { Phone } from '../proxy/phone'
import { Random } from '../proxy/random'
import type { FarmID } from '../src/crop/nouns'
import type { Fact } from '../src/log/change'
import type { Shed } from './shed'

/** Facts of one operation: entities may lie in two. */
const most = 1_000

/** Writes facts as the device of a cookie, and waits until the shed has them. */
export async function write(shed: Shed, farm: FarmID, cookie: string, facts: readonly Fact[]): Promise<void> {
  const phone = new Phone('writer', farm, `${shed.url.replace('http', 'ws')}/sync`, cookie, new Random(1), 0)
  await phone.start()
  try {
    await settled(phone)
    for (let at = 0; at < facts.length; at += most) {
      await phone.notebook.record(facts.slice(at, at + most))
      await settled(phone)
    }
    const [refused] = phone.notebook.sync.value.refused
    if (refused) throw new Error(`the shed refused some of the farm, first ${Object.values(refused).join(' ')}`)
  } finally {
    phone.kill()
  }
}

async function settled(phone: Phone): Promise<void> {
  const until = Date.now() + 60_000
  while (!phone.isSettled) {
    if (Date.now() > until) throw new Error(`writing the farm did not come to an end: ${phone.describe()}`)
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

/** Has a browser's context carry the token of a device that joined. */
export async function admit(context: BrowserContext, shed: Shed, cookie: string): Promise<void> {
  await context.addCookies(cookie.split('; ').map((pair) => {
    const [name = '', value = ''] = pair.split(/=(.*)/s)
    return { name, value, url: shed.url }
  }))
}
