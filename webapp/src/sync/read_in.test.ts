// Sending a saved file to the shed, over HTTP.

import type { AddressInfo } from 'node:net'
import { createServer } from 'node:http'
import type { Server } from 'node:http'
import { afterEach, expect, test, vi } from 'vitest'
import type { ReadIn } from './read_in'
import { readIn } from './read_in'

let server: Server | undefined

afterEach(async () => {
  if (server) await new Promise(done => server!.close(done))
  server = undefined
  vi.restoreAllMocks()
})

/** A shed that answers so; what came to it is noted. */
async function shedThatSays(status: number, body: string, heard: string[] = []): Promise<string> {
  server = createServer((request, answer) => {
    let text = ''
    request.on('data', (chunk: Buffer) => (text += chunk.toString()))
    request.on('end', () => {
      heard.push(`${request.method} ${request.url} ${text}`)
      answer.writeHead(status, { connection: 'close' }).end(body)
    })
  })
  await new Promise<void>(ready => server!.listen(0, '127.0.0.1', ready))
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`
}

const error = '{"error":{"code":"farm","text":"Line 1 of the file says that it is of another farm."}}'

test.each<[number, string, ReadIn]>([
  [200, '{"kept":3,"already":2,"refused":[]}', { kind: 'taken', kept: 3, already: 2, refused: [] }],
  [200, '{"kept":0,"already":0,"refused":[{"seq":1,"code":"date","text":"t"}]}', { kind: 'taken', kept: 0, already: 0, refused: [{ code: 'date', n: 1 }] }],
  [
    200, '{"kept":1,"already":0,"refused":[{"seq":1,"code":"count"},{"seq":2,"code":"operation"},{"seq":3,"code":"count"}]}',
    { kind: 'taken', kept: 1, already: 0, refused: [{ code: 'count', n: 2 }, { code: 'operation', n: 1 }] },
  ],
  [200, '{"kept":0,"already":5,"refused":null}', { kind: 'taken', kept: 0, already: 5, refused: [] }],
  [409, error, { kind: 'refused', code: 'farm', text: 'Line 1 of the file says that it is of another farm.' }],
  [500, '{}', { kind: 'refused', code: '', text: '' }],
])('an answer of %d with %s', async (status, body, want) => {
  const heard: string[] = []
  expect(await readIn('{"t":"unsent"}\n', await shedThatSays(status, body, heard))).toEqual(want)
  expect(heard).toEqual(['POST /api/unsent {"t":"unsent"}\n'])
})

test.each(['no JSON', ''])('what is no answer of a shed (%j) is as if there were none', async body => {
  vi.spyOn(console, 'error').mockImplementation(() => {})
  expect(await readIn('', await shedThatSays(502, body))).toEqual({ kind: 'unreachable' })
})
