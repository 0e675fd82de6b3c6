import { afterEach, describe, expect, it, test, vi } from 'vitest'
import { hasMessage } from '../messages/messages'
import { askBackups } from './backups'

afterEach(() => vi.restoreAllMocks())

function shedThatSays(status: number, body: unknown) {
  return vi.spyOn(globalThis, 'fetch').mockResolvedValue(new Response(JSON.stringify(body), { status }))
}

const answer = {
  folder: '/usb', on: true, running: false, next: 5,
  last_good: { made: 3, path: '/usb/corymb-x-2026-11-29-0300.zip', size: 9, arrival: 21, there: true, damaged: 1, left_out: [] },
  last_failure: { when: 4, code: 'no_room', text: 'There is no room.' },
  files: [{ file: 'corymb-x-2026-11-29-0300.zip', made: 3, size: 9 }],
}

describe('asking for backups', () => {
  it('reads how they stand', async () => {
    shedThatSays(200, answer)
    expect(await askBackups()).toEqual({
      folder: '/usb', on: true, running: false, next: 5, kept: 1,
      good: { made: 3, path: '/usb/corymb-x-2026-11-29-0300.zip', there: true, damaged: 1 },
      failure: { when: 4, code: 'no_room', text: 'There is no room.' },
    })
  })

  it('reads that there is none yet', async () => {
    shedThatSays(200, { folder: '', on: false, running: false, next: 0, last_good: null, last_failure: null, files: [] })
    expect(await askBackups()).toEqual({ folder: '', on: false, running: false, next: 0, good: undefined, failure: undefined, kept: 0 })
  })

  it.each(['now', 'on', 'off'] as const)('says %s', async (what) => {
    const fetched = shedThatSays(what === 'now' ? 202 : 200, { ...answer, running: true })
    expect(await askBackups(what, 'http://shed')).toMatchObject({ running: true })
    expect(fetched.mock.calls[0]).toMatchObject(['http://shed/api/backups', { method: 'POST', body: `{"do":"${what}"}` }])
  })

  it.each([403, 404, 409])('shows nothing where the shed answers %d', async (status) => {
    shedThatSays(status, { error: { code: 'x', text: 'x' } })
    expect(await askBackups()).toBe('nothing')
  })

  it('keeps its place where the shed is in trouble', async () => {
    shedThatSays(500, { error: { code: 'failed', text: 'x' } })
    expect(await askBackups('now')).toBe('unreachable')
  })

  it('says that the shed was not reached', async () => {
    vi.spyOn(console, 'error').mockImplementation(() => {})
    vi.spyOn(globalThis, 'fetch').mockRejectedValue(new TypeError('no network'))
    expect(await askBackups()).toBe('unreachable')
  })
})

// Those of server/backup/problem.go.
test.each(['no_folder', 'inside', 'emptied', 'no_room', 'too_large', 'copy', 'bad', 'faults', 'failed'])('%s is said in words', (code) => {
  expect(hasMessage(`backup.failure.${code}`)).toBe(true)
})
