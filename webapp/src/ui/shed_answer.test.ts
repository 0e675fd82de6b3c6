// How new what the shed is asked for is to be, and that who wants the newest gets it though something older is on its way.

import { signal } from '@preact/signals'
import { afterEach, describe, expect, it, vi } from 'vitest'
import type { Notebook, SyncStatus } from '../sync/notebook'
import { type HowNew, ShedAnswer } from './shed_answer'

afterEach(() => vi.unstubAllGlobals())

const isText = (value: unknown): value is string => typeof value === 'string'

function onTheLine(): Notebook {
  return { kept: () => undefined, keep: () => Promise.resolve(), sync: signal({ link: 'live' } as SyncStatus) } as unknown as Notebook
}

/** A phone on the line with a shed that answers only when it is told to. */
function phone() {
  const asked: { readonly path: string; readonly say: (text: string) => void; readonly fail: () => void }[] = []
  vi.stubGlobal('fetch', (path: string) => new Promise<Response>((resolve, reject) => {
    asked.push({ path, say: (text) => resolve(Response.json(text)), fail: () => reject(new Error('no line')) })
  }))
  return { asked, notebook: onTheLine(), answer: new ShedAnswer<string>({ path: '/api/x', kept: 'x', isAnswer: isText }) }
}

describe('what is wanted while something is on its way', () => {
  const cases: readonly { readonly name: string; readonly wanted: readonly (HowNew | undefined)[]; readonly paths: readonly string[] }[] = [
    { name: 'the newest, of one who says nothing', wanted: [undefined], paths: ['/api/x'] },
    { name: 'something recent twice', wanted: ['recent', 'recent'], paths: ['/api/x?recent'] },
    { name: 'the newest after something recent, by two', wanted: ['recent', 'newest', undefined], paths: ['/api/x?recent', '/api/x'] },
    { name: 'something recent after the newest', wanted: ['newest', 'recent'], paths: ['/api/x'] },
    { name: 'the newest twice', wanted: ['newest', 'newest'], paths: ['/api/x'] },
  ]
  for (const { name, wanted, paths } of cases) {
    it(name, async () => {
      const { asked, notebook, answer } = phone()
      const refreshed = Promise.all(wanted.map((howNew) => answer.refresh(notebook, howNew)))
      for (const [i, path] of paths.entries()) {
        await vi.waitFor(() => expect(asked[i]?.path).toBe(path))
        expect(answer.fetching.value).toBe('yes')
        asked[i]!.say(path)
      }
      await refreshed
      expect(asked.length).toBe(paths.length)
      expect(answer.answer.value).toBe(paths.at(-1))
      expect(answer.fetching.value).toBe('no')
    })
  }
})

it('asks for the newest though what was on its way came to nothing', async () => {
  const logged = vi.spyOn(console, 'error').mockImplementation(() => undefined)
  const { asked, notebook, answer } = phone()
  const refreshed = Promise.all([answer.refresh(notebook, 'recent'), answer.refresh(notebook)])
  asked[0]!.fail()
  await vi.waitFor(() => expect(asked.length).toBe(2))
  asked[1]!.say('newest')
  await refreshed
  expect(answer.answer.value).toBe('newest')
  logged.mockRestore()
})

it('out of reach neither waits nor has failed, and goes on where it stood once the line is back', async () => {
  const logged = vi.spyOn(console, 'error').mockImplementation(() => undefined)
  const { asked, answer } = phone()
  const sync = signal({ link: 'live' } as SyncStatus)
  const stands = (link: SyncStatus['link']) => {
    sync.value = { link } as SyncStatus
    return answer.fetching.value
  }
  const refreshed = answer.refresh({ ...onTheLine(), sync })
  expect([stands('catching_up'), stands('connecting'), stands('live')]).toEqual(['yes', 'no', 'yes'])
  asked[0]!.fail()
  await refreshed
  expect([stands('live'), stands('offline'), stands('live')]).toEqual(['failed', 'no', 'failed'])
  logged.mockRestore()
})

it('posts a question that has a body, and tells why it has no answer until it has one', async () => {
  const sent: RequestInit[] = []
  const answers = [Response.json({ error: { code: 'no_price', text: 'There is no price.' } }, { status: 422 }), Response.json('planned')]
  vi.stubGlobal('fetch', (_: string, init: RequestInit) => {
    sent.push(init)
    return Promise.resolve(answers.shift())
  })
  const notebook = onTheLine()
  const answer = new ShedAnswer<string>({ path: '/api/x', kept: 'x', isAnswer: isText, body: { places: 4 } })
  await answer.refresh(notebook)
  expect([sent[0]?.method, sent[0]?.body]).toEqual(['POST', '{"places":4}'])
  expect([answer.refused.value?.code, answer.fetching.value, answer.answer.value]).toEqual(['no_price', 'no', undefined])
  await answer.refresh(notebook)
  expect([answer.refused.value, answer.fetching.value, answer.answer.value]).toEqual([undefined, 'no', 'planned'])
})
