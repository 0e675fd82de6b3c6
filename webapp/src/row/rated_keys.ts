// The keyboard, keypad or button on a rated walk: digits rate, as the buttons on screen do, and whatever
// key was chosen for the next plant, the one before or taking back does that here too.

import type { Plant } from '../crop/nouns'
import { actionOf, type KeyAction, keyMap, keyOfEvent } from '../ui/key_map'
import { useKeys } from './keys'
import type { RatedLook } from './RatedWalk'
import { neighbour } from './walk'

export function useRatedKeys<T extends string>(look: RatedLook<T>, plant: Plant, order: readonly Plant[]): void {
  useKeys((event) => {
    const action = actionOf(keyMap.peek(), keyOfEvent(event))
    if (action === undefined) return false
    const moves = action === 'next' || action === 'previous'
    return (event.repeat && !moves) || act(action, look, plant, order)
  })
}

/** False where the key stands for nothing on this walk. */
function act<T extends string>(action: KeyAction, { session, digits, rate }: RatedLook<T>, plant: Plant, order: readonly Plant[]): boolean {
  switch (action) {
    case '0':
      session.next()
      return true
    case 'back':
      void session.takeBack()
      return true
    case 'next':
    case 'previous': {
      const other = neighbour(order, plant.id, action === 'next' ? 1 : -1)
      if (other) session.goTo(other.id)
      return other !== undefined
    }
    case 'more':
    case 'nothing':
    case 'again':
      return false
  }
  const what = digits[Number(action) - 1]
  if (what !== undefined) rate(plant, what)
  return what !== undefined
}
