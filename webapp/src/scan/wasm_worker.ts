// The worker that reads codes, so that the screen never waits for it. The server lets scripts of this
// name, and no page, run wasm (server/httpapi/guards.go).

import { codesIn, loadWasm } from './wasm_codes'
import type { Answer, Question } from './wasm_messages'

declare const self: DedicatedWorkerGlobalScope

self.addEventListener('message', (event: MessageEvent<Question>) => void answer(event.data))

async function answer({ id, wasm, picture }: Question): Promise<void> {
  const say = (told: Answer) => self.postMessage(told)
  try {
    await loadWasm(wasm)
    say({ id, seen: await codesIn(picture) })
  } catch (reason) {
    say({ id, failed: String(reason) })
  }
}
