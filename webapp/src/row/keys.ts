// The keyboard of a laptop, or a keypad or button in a pocket: keys count, as those on screen do.
// Which key does what is the device's choice; see key_map.ts.

import { useLayoutEffect, useRef } from 'preact/hooks'
import type { Plant } from '../crop/nouns'
import { actionOf, type KeyAction, keyMap, keyOfEvent } from '../ui/key_map'
import { NoCellYet } from '../ui/taps'
import type { Session } from './session'
import type { Mode } from './steps'
import { neighbour } from './walk'

interface WalkKeys {
  readonly plant: Plant
  readonly order: readonly Plant[]
  readonly mode: Mode
  /** Nothing is left to be said of the plant: on to the next. */
  readonly done: boolean
}

export function useWalkKeys(session: Session, keys: WalkKeys): void {
  useKeys((event) => answer(event, session, keys))
}

/** At the end of a walk nothing is counted, and what was can still be taken back. */
export function useEndKeys(session: Session): void {
  useKeys((event) => {
    if (actionOf(keyMap.peek(), keyOfEvent(event)) !== 'back') return false
    if (!event.repeat) void session.takeBack()
    return true
  })
}

/** Listens before any button does: a key that was chosen for something presses no button beside it. */
export function useKeys(answers: (event: KeyboardEvent) => boolean): void {
  const now = useRef(answers)
  now.current = answers
  // Before the page is seen: a key that is quicker than an effect would be lost.
  useLayoutEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return
      if (now.current(event)) event.preventDefault()
    }
    addEventListener('keydown', listen, { capture: true })
    return () => removeEventListener('keydown', listen, { capture: true })
  }, [])
}

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLInputElement || target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement
}

/** Does what a key stands for; false where it stands for nothing. */
function answer(event: KeyboardEvent, session: Session, keys: WalkKeys): boolean {
  const action = actionOf(keyMap.peek(), keyOfEvent(event))
  if (action === undefined) {
    if (event.key !== 'Escape' || session.tens.peek() === undefined) return false
    session.tens.value = undefined
    return true
  }
  const moves = action === 'next' || action === 'previous'
  // A key that is held, or pressed by what lies on it in the pocket, counts once.
  if (event.repeat && !moves) return true
  return act(action, session, keys)
}

function act(action: KeyAction, session: Session, keys: WalkKeys): boolean {
  switch (action) {
    case 'more':
      if (keys.mode === 'number') session.tens.value = 0
      return true
    case 'nothing':
      return nothing(session, keys)
    case 'back':
      void session.takeBack()
      return true
    case 'next':
      return step(1, session, keys)
    case 'previous':
      return step(-1, session, keys)
    case 'again':
      return again(session, keys)
  }
  return digit(Number(action), session, keys)
}

function nothing(session: Session, { plant, done }: WalkKeys): boolean {
  if (done) session.next()
  else void session.nothing(plant.id)
  return true
}

function digit(value: number, session: Session, keys: WalkKeys): boolean {
  if (keys.mode === 'grid') return false
  const tens = session.tens.peek()
  if (value === 0 && tens === undefined) return nothing(session, keys)
  if (value === 0 && tens === 0) return false
  session.digit(keys.plant.id, value)
  return true
}

/** Another stem where the last was counted, at whatever plant: on the grid a single button is enough. */
function again(session: Session, { plant, mode }: WalkKeys): boolean {
  if (mode === 'number') return false
  const last = session.lastGraded()
  if (last) session.stem(plant.id, last.grade, last.length)
  else session.failure.value = new NoCellYet()
  return true
}

function step(by: 1 | -1, session: Session, { plant, order }: WalkKeys): boolean {
  const other = neighbour(order, plant.id, by)
  if (other) session.goTo(other.id)
  return other !== undefined
}
