// What the phone kept is shown, with its day, while the shed works out the next answer and after it failed to.

import { signal } from '@preact/signals'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import type { Day } from '../crop/nouns'
import { languageChoice, loadWords } from '../messages/messages'
import type { Notebook, SyncStatus } from '../sync/notebook'
import { today } from '../ui/today'
import { type AgesAnswer, answer, fetching, refreshAges } from './ages'
import { whence } from './ages_whence'

const answered = (asof: string): AgesAnswer => ({ arrival: 7, asof: asof as Day, species: [] })

/** A phone that keeps an answer and is on the line with a shed that has not answered yet. */
function phone(kept: AgesAnswer | undefined) {
  const keeps = new Map<string, unknown>([['ages.answer', kept]])
  const notebook = {
    kept: (name: string) => keeps.get(name),
    keep: (name: string, value: unknown) => Promise.resolve(void keeps.set(name, value)),
    sync: signal({ link: 'live' } as SyncStatus),
  } as unknown as Notebook
  let say: (response: Response) => void = () => undefined
  vi.stubGlobal('fetch', () => new Promise<Response>((resolve) => { say = resolve }))
  return { notebook, keeps, say: (response: Response) => say(response) }
}

const day = today.peek()

beforeEach(async () => {
  answer.value = undefined
  today.value = '2026-06-14' as Day
  languageChoice.value = 'en'
  await loadWords('en')
})

afterEach(() => {
  today.value = day
  languageChoice.value = 'auto'
  vi.unstubAllGlobals()
})

it('shows what was kept, and of when it is, while the shed is asked', async () => {
  const { notebook, keeps, say } = phone(answered('2026-06-12'))
  const asked = refreshAges(notebook)
  expect(answer.value).toEqual(answered('2026-06-12'))
  expect(whence()).toMatch(/^last sync Fri\D+12\D*; asking the shed…$/)
  say(Response.json(answered('2026-06-14')))
  await asked
  expect(whence()).toBe('from the last sync, today')
  expect(keeps.get('ages.answer')).toEqual(answered('2026-06-14'))
})

it('goes on showing it, and of when it is, where the shed fails', async () => {
  const logged = vi.spyOn(console, 'error').mockImplementation(() => undefined)
  const { notebook, say } = phone(answered('2026-06-12'))
  const asked = refreshAges(notebook)
  say(new Response('', { status: 503 }))
  await asked
  expect(fetching.value).toBe('failed')
  expect(answer.value).toEqual(answered('2026-06-12'))
  expect(whence()).toMatch(/^from the last sync, Fri\D+12/)
  expect(logged).toHaveBeenCalledOnce()
  logged.mockRestore()
})

it('leaves it to the page to say that it asks where nothing was kept', async () => {
  const { notebook, say } = phone(undefined)
  const asked = refreshAges(notebook)
  expect(answer.value).toBeUndefined()
  expect(whence()).toBe('')
  say(Response.json(answered('2026-06-14')))
  await asked
})
