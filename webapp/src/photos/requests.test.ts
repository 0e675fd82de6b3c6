// How answers of the shed, and of whatever else may stand at its address, are read.

import { afterEach, describe, expect, test, vi } from 'vitest'
import type { PhotoHash } from '../crop/nouns'
import { shedPhotos } from './requests'

const hash = 'ab'.repeat(32) as PhotoHash
const shed = shedPhotos()
const never = new AbortController().signal

afterEach(() => vi.unstubAllGlobals())

/** Answers everything like this, and tells what was asked. */
function answering(answer: Response) {
  const asked: { url: string; init: RequestInit }[] = []
  vi.stubGlobal('fetch', (url: string, init: RequestInit) => {
    asked.push({ url, init })
    return Promise.resolve(answer.clone())
  })
  return asked
}

function refusal(status: number, code: string, headers: Record<string, string> = {}): Response {
  return new Response(JSON.stringify({ error: { code, text: 'why' } }), { status, headers })
}

describe('asking which are missing', () => {
  test('sends the hashes and reads those that are', async () => {
    const asked = answering(new Response(JSON.stringify({ missing: [hash] })))
    expect(await shed.missing([hash], never)).toEqual({ kind: 'missing', hashes: [hash] })
    expect(asked[0]).toMatchObject({ url: '/api/photos/missing', init: { method: 'POST', body: JSON.stringify([hash]) } })
  })

  test.each([['[]'], ['{"missing":3}'], ['<html>']])('%s is no answer', async body => {
    answering(new Response(body))
    await expect(shed.missing([hash], never)).rejects.toThrow()
  })
})

describe('an upload', () => {
  const headers = { 'upload-offset': '5', 'upload-complete': '?0', 'upload-length': '9', 'upload-limit': 'max-size=1000, max-append-size=10' }

  test('is told by its headers', async () => {
    answering(new Response(null, { status: 204, headers }))
    expect(await shed.head(hash, never)).toEqual({ kind: 'has', offset: 5, whole: false, length: 9 })
    answering(new Response(null, { status: 204, headers: { 'upload-offset': '9', 'upload-complete': '?1' } }))
    expect(await shed.head(hash, never)).toEqual({ kind: 'has', offset: 9, whole: true, length: 0 })
  })

  test('is sent as a piece that says where it begins and how long the whole is', async () => {
    const asked = answering(new Response(null, { status: 204, headers }))
    await shed.piece(hash, 9, 3, new Uint8Array([1, 2]), never)
    expect(asked[0]).toMatchObject({
      url: `/api/photos/${hash}/upload`,
      init: { method: 'PATCH', headers: { 'content-type': 'application/partial-upload', 'upload-offset': '3', 'upload-length': '9' }, body: new Uint8Array([1, 2]) },
    })
  })

  test('that is refused is not whole, though its refusal is complete', async () => {
    answering(refusal(422, 'type', { ...headers, 'upload-complete': '?1' }))
    expect(await shed.piece(hash, 9, 5, new Uint8Array(1), never)).toEqual({ kind: 'refused', status: 422, code: 'type', offset: 5, limit: 1000 })
  })

  test('that something before the shed refuses has no code', async () => {
    answering(new Response('<html>too large</html>', { status: 413 }))
    expect(await shed.piece(hash, 9, 5, new Uint8Array(1), never)).toEqual({ kind: 'refused', status: 413, code: '', offset: undefined, limit: undefined })
  })

  test.each([['nothing', undefined], ['no number', 'x'], ['a number below 0', '-1'], ['a number that is too long', '1'.repeat(16)]])(
    'told by %s is no answer of a shed', async (_, offset) => {
      answering(new Response(null, { status: 204, headers: offset === undefined ? {} : { 'upload-offset': offset } }))
      await expect(shed.head(hash, never)).rejects.toThrow()
    })
})

describe('a picture', () => {
  test.each<[string, Response, string]>([
    ['comes', new Response(new Uint8Array([1, 2])), 'here'],
    ['has not come to the shed', refusal(404, 'not_here'), 'not_here'],
    ['an owner deleted', refusal(410, 'removed'), 'removed'],
    ['is gone from something that is no shed', new Response('', { status: 410 }), 'out_of_reach'],
    ['is asked of something that is no shed', new Response('', { status: 404 }), 'out_of_reach'],
    ['is not for this device', refusal(401, 'join'), 'out_of_reach'],
    ['is asked of a shed in trouble', refusal(500, 'failed'), 'out_of_reach'],
  ])('that %s', async (_, answer, kind) => {
    const asked = answering(answer)
    expect((await shed.small(hash, never)).kind).toBe(kind)
    expect((await shed.full(hash, never)).kind).toBe(kind)
    expect(asked.map(({ url }) => url)).toEqual([`/api/photos/${hash}/small`, `/api/photos/${hash}`])
  })
})

describe('deleting a picture', () => {
  test.each([
    ['is done only where the shed says so', new Response(null, { status: 204 }), 'removed'],
    ['is an owner’s', refusal(403, 'role'), 'role'],
    ['is nobody’s who has not joined', refusal(401, 'join'), 'join'],
    ['is not one’s who was withdrawn', refusal(401, 'withdrawn'), 'join'],
    ['fails with a shed in trouble', refusal(500, 'failed'), 'failed'],
    ['is not what a page of a café says', new Response('<html>', { status: 200 }), 'out_of_reach'],
    ['is not what stands before a shed says', new Response('<html>', { status: 502 }), 'out_of_reach'],
  ] as const)('%s', async (_, answer, removal) => {
    const asked = answering(answer)
    expect(await shed.remove(hash, never)).toBe(removal)
    expect(asked[0]).toMatchObject({ url: `/api/photos/${hash}`, init: { method: 'DELETE' } })
  })
})
