// What the shed answers at its door and to its owners (the answers stand in for the network).

import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { doorOf, join, leave } from './door'
import { problemText } from './problem'
import { askRoster, giveRole, invite, looked, rosterOf, withdraw, withdrawPerson } from './roster'

const me = {
  farm: 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2', farm_name: 'Hill farm', made_up: false,
  person: 'ana', name: 'Ana', role: 'crew', owners: ['ben'], device: 'd1', later: 'unknown',
}
const entered = {
  kind: 'member', device: 'd1',
  member: { farm: me.farm, farmName: 'Hill farm', madeUp: false, person: 'ana', name: 'Ana', role: 'crew', owners: ['ben'] },
}

interface Asked {
  readonly method: string | undefined
  readonly path: string
  readonly body: unknown
}

let asked: Asked[]

/** The shed gives these answers in turn; without one left it is out of reach. */
function answers(...given: readonly [status: number, body: unknown, headers?: Record<string, string>][]): void {
  const left = [...given]
  vi.stubGlobal('fetch', (path: string, { method, body }: RequestInit) => {
    asked.push({ method, path, body: typeof body === 'string' ? JSON.parse(body) : undefined })
    const next = left.shift()
    if (!next) return Promise.reject(new TypeError('no network'))
    const [status, said, headers] = next
    return Promise.resolve(new Response(said === null || typeof said === 'string' ? said : JSON.stringify(said), { status, ...(headers && { headers }) }))
  })
}

beforeEach(() => {
  asked = []
  vi.spyOn(console, 'error').mockImplementation(() => {})
})

afterEach(() => {
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
})

describe('entering', () => {
  const refused = (code: string, open?: boolean) => [401, { error: { code, text: 'no' }, ...(open && { open }) }] as [number, unknown]

  test.each([
    ['takes a device that it knows', [[200, me]], entered],
    ['does not know the device', [refused('join')], { kind: 'join' }],
    ['has shut the device out', [refused('withdrawn')], { kind: 'withdrawn' }],
    ['is in trouble', [[500, { error: { code: 'store', text: 'no' } }]], { kind: 'unreachable' }],
    ['is something else', [[200, '<html>']], { kind: 'unreachable' }],
    ['answers in another form', [[200, { ...me, role: 'king' }]], { kind: 'unreachable' }],
    ['says no person', [[200, { ...me, person: '' }]], { kind: 'unreachable' }],
    ['is out of reach', [], { kind: 'unreachable' }],
  ] as [string, [number, unknown][], unknown][])('a shed that %s', async (_, given, entry) => {
    answers(...given)
    expect(await doorOf(() => 'Android phone', () => false).enter('d1')).toEqual(entry)
    expect(asked.map(({ method, path }) => `${method} ${path}`)).toEqual(['GET /api/me'])
  })

  test('joins a shed that is open to all at once, under the device’s own label', async () => {
    answers(refused('join', true), [200, me])
    expect(await doorOf(() => 'Android phone', () => false).enter('d1')).toEqual(entered)
    expect(asked[1]).toEqual({ method: 'POST', path: '/api/join', body: { code: '', device: 'd1', label: 'Android phone' } })
  })

  test('lets a code that waits to be used go first', async () => {
    answers(refused('join', true))
    expect(await doorOf(() => 'Android phone', () => true).enter('d1')).toEqual({ kind: 'join' })
  })
})

describe('joining', () => {
  test('tells whose device it is now', async () => {
    answers([200, { ...me, name: '', farm_name: '' }])
    const answer = await join('ABCDEFGH', 'd1', 'iPhone')
    expect(answer).toMatchObject({ kind: 'ok', value: { member: { name: '', farmName: '' } } })
    expect(asked[0]!.body).toEqual({ code: 'ABCDEFGH', device: 'd1', label: 'iPhone' })
  })

  test.each([
    ['a wrong code', 403, { error: { code: 'code', text: 'no' } }, {}, /mistyped, used already, or too old/],
    ['too many codes', 429, { error: { code: 'wait', text: 'no' } }, { 'retry-after': '61' }, /in 2 minutes/],
    ['too many codes, for how long is not told', 429, { error: { code: 'wait', text: 'no' } }, {}, /in 1 minute\./],
    ['what no version knows yet', 409, { error: { code: 'moon', text: 'no' } }, {}, /reason “moon”/],
    ['an answer without a reason', 502, {}, {}, /reason “”/],
  ])('%s is said in a sentence', async (_, status, said, headers, sentence) => {
    answers([status, said, headers])
    const answer = await join('ABCDEFGH', 'd1', 'iPhone')
    if (answer.kind === 'ok') throw new Error('it joined')
    expect(problemText(answer)).toMatch(sentence)
    expect(problemText(answer)).toMatch(/Nothing (has|was) changed/)
  })

  test('leaving needs no answer', async () => {
    answers([204, null])
    expect(await leave()).toEqual({ kind: 'ok', value: undefined })
  })
})

describe('the roster', () => {
  const device = {
    device: 'd1', person: 'ana', name: 'Ana', role: 'crew', label: 'iPhone', joined: '2026-11-28T17:04:00Z',
    seen: '', unsent: null, connected: false, withdrawn: '', forgotten: true,
  }
  const roster = {
    origin: 'https://shed.local:8420', devices: [device],
    members: [{ person: 'ana', name: 'Ana', role: 'crew' }],
    invitations: [{ id: 'i1', person: 'ben', name: 'Ben', role: 'viewer', expires: '2026-11-28T17:14:00.5Z' }],
    restored: '2026-11-28T17:00:00Z',
  }

  test('is read with its moments', () => {
    expect(rosterOf(roster)).toEqual({
      origin: 'https://shed.local:8420',
      devices: [{ ...device, joined: Date.UTC(2026, 10, 28, 17, 4), seen: 0, unsent: undefined, withdrawn: 0 }],
      people: [{ person: 'ana', name: 'Ana', role: 'crew' }],
      invitations: [{ id: 'i1', person: 'ben', name: 'Ben', role: 'viewer', expires: Date.UTC(2026, 10, 28, 17, 14, 0, 500) }],
      restored: Date.UTC(2026, 10, 28, 17),
    })
    expect(rosterOf({ ...roster, restored: '' }).restored).toBe(0)
    const { forgotten: _, ...untold } = device
    expect(rosterOf({ ...roster, devices: [untold] }).devices[0]?.forgotten).toBe(false)
  })

  test.each([
    ['a device without an id', { devices: [{ ...device, device: '' }] }],
    ['a role that there is not', { members: [{ person: 'ana', name: 'Ana', role: 'king' }] }],
    ['a moment that is none', { devices: [{ ...device, joined: 'yesterday' }] }],
    ['half an entry unsent', { devices: [{ ...device, unsent: 0.5 }] }],
    ['a list that is none', { devices: {} }],
  ])('with %s is not believed', async (_, part) => {
    answers([200, { ...roster, ...part }])
    expect(await askRoster()).toEqual({ kind: 'unreachable' })
  })

  test.each([
    ['is read', ['101', '010', '111'], 'ok'],
    ['that is no square is not believed', ['101', '010'], 'unreachable'],
    ['of other signs is not believed', ['1x1', '010', '111'], 'unreachable'],
  ])('the QR code of an invitation %s', async (_, qr, kind) => {
    answers([200, { id: 'i1', code: 'ABCD-EFGH', link: 'https://shed.local:8420/#join/ABCDEFGH', expires: '2026-11-28T17:14:00Z', qr, trust: null }])
    expect((await invite('ben' as never, 'Ben', 'viewer')).kind).toBe(kind)
    expect(asked[0]).toEqual({ method: 'POST', path: '/api/invitations', body: { person: 'ben', name: 'Ben', role: 'viewer' } })
  })

  test('ids stay one part of the address', async () => {
    answers([204, null], [204, null], [204, null], [409, { error: { code: 'last_owner', text: 'no' } }])
    await withdraw('a/b')
    await withdrawPerson('e%f' as never)
    await looked()
    expect(await giveRole('c?d' as never, 'crew')).toMatchObject({ kind: 'refused', code: 'last_owner' })
    expect(asked.map(({ path }) => path)).toEqual(['/api/devices/a%2Fb/withdraw', '/api/members/e%25f/withdraw', '/api/devices/looked', '/api/members/c%3Fd/role'])
  })
})
