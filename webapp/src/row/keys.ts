// The keyboard of a laptop, or a keypad in a pocket: digits count, as the keys on screen do.

import { useEffect } from 'preact/hooks'
import type { Plant } from '../crop/nouns'
import type { Mode, Session } from './session'
import { neighbour } from './walk'

interface WalkKeys {
  readonly plant: Plant
  readonly order: readonly Plant[]
  readonly mode: Mode
  readonly seen: boolean
}

export function useWalkKeys(session: Session, keys: WalkKeys): void {
  useEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return
      if (answer(event.key, session, keys)) event.preventDefault()
    }
    addEventListener('keydown', listen)
    return () => removeEventListener('keydown', listen)
  })
}

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLInputElement || target instanceof HTMLSelectElement
}

/** Does what a key stands for; false where it stands for nothing. */
function answer(key: string, session: Session, keys: WalkKeys): boolean {
  if (/^[0-9]$/.test(key)) return digit(Number(key), session, keys)
  switch (key) {
    case '+':
      session.tens.value = 0
      return true
    case 'Escape':
      session.tens.value = undefined
      return true
    case 'Backspace':
      void session.takeBack()
      return true
    case 'ArrowRight':
      return step(1, session, keys)
    case 'ArrowLeft':
      return step(-1, session, keys)
  }
  return false
}

function digit(value: number, session: Session, { plant, mode, seen }: WalkKeys): boolean {
  if (mode === 'grid') return false
  const tens = session.tens.peek()
  if (value === 0 && tens === undefined) {
    if (seen) session.next()
    else void session.nothing(plant.id)
    return true
  }
  if (value === 0 && tens === 0) return false
  session.digit(plant.id, value)
  return true
}

function step(by: 1 | -1, session: Session, { plant, order }: WalkKeys): boolean {
  const other = neighbour(order, plant.id, by)
  if (other) session.goTo(other.id)
  return other !== undefined
}
