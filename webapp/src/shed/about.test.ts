import { afterEach, describe, expect, it, vi } from 'vitest'
import { askAbout, askTexts } from './about'

const about = { version: '1.2.0', go: 'go1.26.0', sqlite: '3.54.1', driver: 'a', dependencies: [{ name: 'b', version: '1', licence: 'MIT' }] }

function shedAnswers(answer: () => Response): void {
  vi.stubGlobal('fetch', (address: string) => (address.startsWith('/api/about') ? Promise.resolve().then(answer) : Promise.reject(new Error(address))))
}

afterEach(() => {
  vi.unstubAllGlobals()
})

describe('what the shed says of its program', () => {
  it('is taken as it was told', async () => {
    shedAnswers(() => Response.json(about))
    expect(await askAbout()).toEqual(about)
    shedAnswers(() => Response.json({ texts: { b: 'Permission is granted' } }))
    expect(await askTexts()).toEqual(new Map([['b', 'Permission is granted']]))
  })

  it.each<[string, () => Response]>([
    ['the shed is out of reach', () => { throw new TypeError('no connection') }],
    ['it has a fault', () => Response.json(about, { status: 500 })],
    ['something else answers with a page', () => new Response('<!doctype html>')],
    ['it answers in another form', () => Response.json({ ...about, dependencies: [{ name: 1 }] })],
    ['it is an older one', () => Response.json({ error: { code: 'not_found' } }, { status: 404 })],
  ])('is nothing where %s', async (_, answer) => {
    shedAnswers(answer)
    expect(await askAbout()).toBeUndefined()
    expect(await askTexts()).toBeUndefined()
  })
})
