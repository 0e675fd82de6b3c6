// From a picture to the text of the code in it, by whichever reader is quicker on this device: the
// browser's own where there is one, else the one that comes with the app.

import { openOwn } from './own_reader'
import { aimedAt, type Reader } from './reader'
import { openWasm } from './wasm_reader'

/** Pictures that both readers read, one after the other, before the quicker goes on alone. */
const trials = 3

type Name = 'own' | 'wasm'

/** Which reader won here, while the app is open. */
let quicker: Name | undefined

export async function openReader(): Promise<Reader> {
  if (quicker === 'wasm') return openWasm()
  const own = await openOwn()
  if (own === undefined || quicker === 'own') return own ?? openWasm()
  return contest({ own, wasm: openWasm() }, (winner) => { quicker = winner })
}

/** The text of the code in a picture, of the one aimed at if there are several; undefined where there is none. */
export async function decode(reader: Reader, picture: ImageData): Promise<string | undefined> {
  const { width, height } = picture
  return aimedAt(await reader.read(picture), { width, height })
}

/**
 * Reads with both until it is known which is quicker, or one fails. The first picture does not count: with
 * it they start.
 */
export function contest(readers: Readonly<Record<Name, Reader>>, decided: (winner: Name) => void): Reader {
  const spent: Record<Name, number> = { own: 0, wasm: 0 }
  let pictures = 0
  let winner: Name | undefined
  const settle = (name: Name) => {
    if (winner !== undefined) return
    winner = name
    readers[name === 'own' ? 'wasm' : 'own'].close()
    decided(name)
  }
  const timed = async (name: Name, picture: ImageData) => {
    const from = performance.now()
    const seen = await readers[name].read(picture)
    if (pictures > 0) spent[name] += performance.now() - from
    return seen
  }
  const both = async (picture: ImageData) => {
    const copy = new ImageData(picture.data.slice(), picture.width, picture.height)
    const byOwn = await timed('own', copy).catch(() => settle('wasm'))
    const byWasm = await timed('wasm', picture).catch((reason: unknown) => {
      if (winner === 'wasm') throw reason // neither works
      settle('own')
    })
    if (++pictures > trials) settle(spent.own <= spent.wasm ? 'own' : 'wasm')
    return byOwn?.length ? byOwn : byWasm ?? []
  }
  return {
    read: (picture) => (winner === undefined ? both(picture) : readers[winner].read(picture)),
    close: () => {
      readers.own.close()
      readers.wasm.close()
    },
  }
}
