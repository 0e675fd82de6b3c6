// The worker that unpacks draws: a large farm's take a phone half a second, in which its screen must not stand still.

import { type Draws, unpackDraws } from './draws'
import type { PackedDraws } from './forecast'

export type Unpacking = { readonly draws: Draws } | { readonly failed: string }

/** As much of a worker's scope as is used: the pages' types know no workers. */
interface Scope {
  addEventListener(type: 'message', heard: (event: MessageEvent<PackedDraws>) => void): void
  postMessage(told: Unpacking, transfer: Transferable[]): void
}

const scope = self as unknown as Scope

scope.addEventListener('message', ({ data }) => {
  try {
    const draws = unpackDraws(data)
    scope.postMessage({ draws }, [draws.stems.buffer, draws.days.buffer])
  } catch (reason) {
    scope.postMessage({ failed: String(reason) }, [])
  }
})
