import { describe, expect, it } from 'vitest'
import { actionOf, type KeyAction, keyActions, type KeyMap, keyOfEvent, keysOf, withKey, withoutKey } from './key_map'

describe('what a key does', () => {
  const cases: [string, KeyMap, string, KeyAction | undefined][] = [
    ['the usual, where nothing was chosen', {}, '5', '5'],
    ['the usual, beside a chosen one', { back: 'F9' }, 'Backspace', 'back'],
    ['what it was chosen for', { back: 'F9' }, 'F9', 'back'],
    ['what it was chosen for, though it is the usual key of something else', { nothing: '+' }, '+', 'nothing'],
    ['nothing', {}, 'Enter', undefined],
  ]
  it.each(cases)('%s', (_, map, key, action) => {
    expect(actionOf(map, key)).toBe(action)
  })

  it('is one thing for each usual key, and is told for every action', () => {
    const keys = keyActions.flatMap((action) => keysOf({}, action))
    expect(new Set(keys).size).toBe(keys.length)
    expect(keyActions.filter((action) => keysOf({}, action).length === 0)).toEqual(['nothing', 'again'])
  })
})

describe('choosing a key', () => {
  it('takes it from what it was chosen for before', () => {
    const map = withKey(withKey({}, 'again', 'Enter'), 'nothing', 'Enter')
    expect([actionOf(map, 'Enter'), keysOf(map, 'again')]).toEqual(['nothing', []])
  })

  it('takes a usual key from its action, which gets it back when the choice is taken off', () => {
    const map = withKey({}, 'again', '5')
    expect([keysOf(map, '5'), keysOf(map, 'again')]).toEqual([[], ['5']])
    expect(keysOf(withoutKey(map, 'again'), '5')).toEqual(['5'])
  })

  it('gives an action its usual key back by choosing that', () => {
    const map = withKey(withKey({}, 'again', '5'), '5', '5')
    expect([map, keysOf(map, '5'), keysOf(map, 'again')]).toEqual([{}, ['5'], []])
  })

  it('replaces the action’s own earlier choice', () => {
    expect(keysOf(withKey(withKey({}, 'back', 'F8'), 'back', 'F9'), 'back')).toEqual(['F9', 'Backspace'])
  })
})

it.each([
  ['what it writes, capitals or not', 'A', 'KeyA', 'a'], ['what it does', 'ArrowUp', 'ArrowUp', 'ArrowUp'],
  ['where it is, when the browser knows no more', 'Unidentified', 'F13', 'at F13'], ['nothing at all', 'Unidentified', '', ''],
])('a key is called by %s', (_, key, code, name) => {
  expect(keyOfEvent({ key, code })).toBe(name)
})
