// A reader that asks the worker.

import wasm from 'zxing-wasm/reader/zxing_reader.wasm?url'
import type { Reader, Seen } from './reader'
import type { Answer, Question } from './wasm_messages'

interface Waiting {
  readonly resolve: (seen: readonly Seen[]) => void
  readonly reject: (reason: Error) => void
}

export function openWasm(): Reader {
  const worker = new Worker(new URL('./wasm_worker.ts', import.meta.url), { type: 'module' })
  const waiting = new Map<number, Waiting>()
  let last = 0
  let broken: Error | undefined
  const giveUp = (reason: Error) => {
    broken = reason
    for (const one of waiting.values()) one.reject(reason)
    waiting.clear()
  }
  worker.addEventListener('message', (event: MessageEvent<Answer>) => {
    const { data } = event
    const asked = waiting.get(data.id)
    waiting.delete(data.id)
    if ('seen' in data) asked?.resolve(data.seen)
    else asked?.reject(new Error(`reading a picture's codes: ${data.failed}`))
  })
  worker.addEventListener('error', (event) => giveUp(new Error(`starting the reader of codes: ${event.message}`)))
  return {
    read(picture) {
      if (broken) return Promise.reject(broken)
      return new Promise((resolve, reject) => {
        waiting.set(++last, { resolve, reject })
        worker.postMessage({ id: last, wasm, picture } satisfies Question, [picture.data.buffer])
      })
    },
    close() {
      worker.terminate()
      giveUp(new Error('the reader of codes was closed'))
    },
  }
}
