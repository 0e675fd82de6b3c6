// Which key does what on a walk: the usual keys, and those that somebody chose on this device for a
// keypad or a single button. A chosen key comes beside the usual one; where it is the usual key of
// something else, the choice wins.

import { signal } from '@preact/signals'
import type { Notebook } from '../sync/notebook'

export const keyActions = [
  '1', '2', '3', '4', '5', '6', '7', '8', '9', '0', 'more', 'nothing', 'next', 'previous', 'back', 'again',
] as const
export type KeyAction = (typeof keyActions)[number]

/** A chosen key for each action that has one. */
export type KeyMap = Readonly<Partial<Record<KeyAction, string>>>

const usual: KeyMap = {
  1: '1', 2: '2', 3: '3', 4: '4', 5: '5', 6: '6', 7: '7', 8: '8', 9: '9', 0: '0',
  more: '+', next: 'ArrowRight', previous: 'ArrowLeft', back: 'Backspace',
}

const kept = 'device.keys'

export const keyMap = signal<KeyMap>({})

export function readKeys(notebook: Notebook): void {
  keyMap.value = notebook.kept<KeyMap>(kept) ?? {}
}

/** Rejects with a RecordError where the choice will not outlive the page. */
export async function setKeys(notebook: Notebook, map: KeyMap): Promise<void> {
  keyMap.value = map
  await notebook.keep(kept, map)
}

/** What a browser calls a key: by what it writes or does, else by where it is; '' where it tells neither. */
export function keyOfEvent({ key, code }: Pick<KeyboardEvent, 'key' | 'code'>): string {
  if (key !== '' && key !== 'Unidentified') return key.length === 1 ? key.toLowerCase() : key
  return code === '' ? '' : `at ${code}`
}

/** What a key does; undefined where it does nothing. */
export function actionOf(map: KeyMap, key: string): KeyAction | undefined {
  return named(map, key) ?? named(usual, key)
}

function named(map: KeyMap, key: string): KeyAction | undefined {
  return keyActions.find((action) => map[action] === key)
}

/** The keys that do something: the chosen first, and the usual unless it was chosen for something else. */
export function keysOf(map: KeyMap, action: KeyAction): string[] {
  const keys = [map[action], usual[action]].filter((key): key is string => key !== undefined)
  return [...new Set(keys)].filter((key) => actionOf(map, key) === action)
}

/** The map with a key chosen for an action; an action that it was chosen for before loses it. */
export function withKey(map: KeyMap, action: KeyAction, key: string): KeyMap {
  const others = Object.entries(map).filter(([one, chosen]) => one !== action && chosen !== key)
  // A usual key needs no choice, unless it is another's.
  return Object.fromEntries(usual[action] === key ? others : [...others, [action, key]])
}

export function withoutKey(map: KeyMap, action: KeyAction): KeyMap {
  return Object.fromEntries(Object.entries(map).filter(([one]) => one !== action))
}
