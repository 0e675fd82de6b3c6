// The draws of the shed's answer, unpacked once for all who ask.

import type { Draws } from './draws'
import { unpackDraws } from './draws'
import type { ForecastAnswer } from './forecast'

const known = new WeakMap<ForecastAnswer, Draws | 'unreadable'>()

/** undefined where they cannot be read, which is told to the console once. */
export function drawsOf(answer: ForecastAnswer): Draws | undefined {
  let draws = known.get(answer)
  if (draws === undefined) {
    draws = unpacked(answer)
    known.set(answer, draws)
  }
  return draws === 'unreadable' ? undefined : draws
}

function unpacked(answer: ForecastAnswer): Draws | 'unreadable' {
  try {
    return unpackDraws(answer.draws)
  } catch (reason) {
    console.error('unpacking the forecast', reason)
    return 'unreadable'
  }
}
