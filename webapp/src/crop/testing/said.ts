// A farm for tests as it is read from facts that one device said one after the other.

import type { Fact } from '../../log/change'
import { State } from '../../log/state'
import { LiveFarm } from '../live'
import type { Farm, FarmID } from '../nouns'

export const farmID = 'f' as FarmID

/** Each list is one operation. */
export function farmSaid(...operations: readonly (readonly Fact[])[]): Farm {
  const live = new LiveFarm(farmID)
  live.replace(stateSaid(...operations))
  return live.farm.peek()
}

export function stateSaid(...operations: readonly (readonly Fact[])[]): State {
  const state = new State()
  let seq = 0
  operations.forEach((facts, i) => {
    const stamp = { l: 1000 + i, c: 0 }
    for (const fact of facts) state.merge({ ...fact, incarnation: '00000000-0000-4000-8000-000000000001', seq: ++seq, stamp, rest: 0, person: 'maren' }, stamp)
  })
  return state
}
