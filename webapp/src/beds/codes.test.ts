import { afterEach, describe, expect, it, vi } from 'vitest'
import type { PlantID } from '../crop/nouns'
import { tagCode } from '../crop/tag_code'
import { farmWith, plantWith } from '../crop/testing/nouns'
import type { Notebook, Said } from '../sync/notebook'
import { codesLeft, keepCodes, mintCodes } from './codes'

/** As much of a notebook as codes need. */
class Book {
  readonly keptHere = new Map<string, unknown>()
  identity = 'first'
  role = 'owner'
  link = 'live'
  readonly sync = { peek: () => ({ link: this.link }) }
  readonly member = { peek: () => ({ role: this.role }) }
  writer() { return this.identity }
  kept(name: string) { return this.keptHere.get(name) }
  async recordInTurn(say: () => Said) { this.keep(say().alongside) }
  keep(alongside: Said['alongside']) { for (const [name, value] of Object.entries(alongside)) this.keptHere.set(name, value) }
}

function shedThatLeases(...blocks: number[]) {
  const asked = vi.fn(async () => Response.json({ block: blocks.shift() ?? 99 }))
  vi.stubGlobal('fetch', asked)
  return asked
}

afterEach(() => {
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
})

async function bookWithCodes(): Promise<[Book, Notebook]> {
  const book = new Book()
  shedThatLeases(7, 8, 9, 10)
  await keepCodes(book as unknown as Notebook)
  return [book, book as unknown as Notebook]
}

describe('tag codes on a device', () => {
  it('are leased while the shed is in reach until there are enough', async () => {
    const book = new Book()
    const asked = shedThatLeases(7, 8, 9, 10, 11)
    await keepCodes(book as unknown as Notebook)
    await keepCodes(book as unknown as Notebook)
    expect(asked).toHaveBeenCalledTimes(4)
    expect(codesLeft(book as unknown as Notebook)).toBe(1024)
  })

  it.each([['crew', 'live'], ['viewer', 'live'], ['owner', 'offline']])('are not asked for by a %s whose line is %s', async (role, link) => {
    const book = Object.assign(new Book(), { role, link })
    const asked = shedThatLeases()
    await keepCodes(book as unknown as Notebook)
    expect(asked).not.toHaveBeenCalled()
  })

  it('are asked for by one at a time, so that what the first gets spares the second its asking', async () => {
    const book = new Book()
    let [asked, atOnce, most] = [0, 0, 0]
    vi.stubGlobal('fetch', vi.fn(async () => {
      most = Math.max(most, ++atOnce)
      await new Promise((done) => setTimeout(done))
      atOnce--
      return Response.json({ block: ++asked })
    }))
    await Promise.all([keepCodes(book as unknown as Notebook), keepCodes(book as unknown as Notebook), keepCodes(book as unknown as Notebook, 1_500)])
    expect([asked, most]).toEqual([6, 1])
    expect(codesLeft(book as unknown as Notebook)).toBe(1536)
  })

  it('are asked for again after the shed failed to give any', async () => {
    const book = new Book()
    vi.spyOn(console, 'error').mockImplementation(() => undefined)
    vi.stubGlobal('fetch', vi.fn(async () => new Response('', { status: 500 })))
    await keepCodes(book as unknown as Notebook)
    shedThatLeases(7, 8, 9, 10)
    await keepCodes(book as unknown as Notebook)
    expect(codesLeft(book as unknown as Notebook)).toBe(1024)
  })

  it('are given out once each, past those that plants have, however they are written', async () => {
    const [book, notebook] = await bookWithCodes()
    const farm = farmWith({ plants: [plantWith({ id: 'x' as PlantID, code: tagCode(7, 1).toLowerCase().replace(' ', '') })] })
    const first = mintCodes(notebook, farm, 2)
    book.keep(first?.alongside ?? {})
    const then = mintCodes(notebook, farm, 255)
    expect(first?.codes).toEqual([tagCode(7, 0), tagCode(7, 2)])
    expect(then?.codes).toEqual([...Array(253).keys()].map((i) => tagCode(7, i + 3)).concat([tagCode(8, 0), tagCode(8, 1)]))
  })

  it('are given out all or not at all', async () => {
    const [, notebook] = await bookWithCodes()
    expect(mintCodes(notebook, farmWith({}), 1024)?.codes).toHaveLength(1024)
    expect(mintCodes(notebook, farmWith({}), 1025)).toBeUndefined()
  })

  it('of a device that writes under another identity are none', async () => {
    const [book, notebook] = await bookWithCodes()
    book.identity = 'second'
    expect(codesLeft(notebook)).toBe(0)
  })
})
