// Devices that join a shed without anybody typing.

import { request } from 'playwright-core'
import type { FarmID, PersonID } from '../src/crop/nouns'
import type { Shed } from './shed'

/** Joins by a code, and gives the cookie that a device then carries. */
export async function joinBy(shed: Shed, code: string): Promise<string> {
  const device = await request.newContext({ baseURL: shed.url })
  try {
    const answer = await device.post('/api/join', { data: { code, device: crypto.randomUUID(), label: 'test' } })
    if (!answer.ok()) throw new Error(`joining the shed: ${answer.status()} ${await answer.text()}`)
    const { cookies } = await device.storageState()
    return cookies.map(({ name, value }) => `${name}=${value}`).join('; ')
  } finally {
    await device.dispose()
  }
}

/** A code for one more device of a person, made by an owner's device. */
export async function invite(shed: Shed, cookie: string, person: string, role: string, name = 'Ilse'): Promise<string> {
  const owner = await request.newContext({ baseURL: shed.url, extraHTTPHeaders: { cookie } })
  try {
    const answer = await owner.post('/api/invitations', { data: { person, name, role } })
    if (!answer.ok()) throw new Error(`inviting: ${answer.status()} ${await answer.text()}`)
    return ((await answer.json()) as { code: string }).code
  } finally {
    await owner.dispose()
  }
}

/** The cookies of so many devices of owners; a shed lets ten join at once. */
export async function joinMany(shed: Shed, devices: number): Promise<string[]> {
  const first = await joinBy(shed, shed.firstCode)
  const cookies = [first]
  while (cookies.length < devices) cookies.push(await joinBy(shed, await invite(shed, first, crypto.randomUUID(), 'owner')))
  return cookies
}

/** The farm that a device belongs to, and the person who holds it. */
export async function whoIs(shed: Shed, cookie: string): Promise<{ readonly farm: FarmID; readonly person: PersonID }> {
  const answer = await fetch(`${shed.url}/api/me`, { headers: { cookie } })
  return await answer.json() as { farm: FarmID; person: PersonID }
}
