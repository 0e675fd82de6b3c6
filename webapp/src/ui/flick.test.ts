import { describe, expect, it, vi } from 'vitest'
import { touched, touchOf } from './flick'

const cases: [string, number, number, ReturnType<typeof touchOf>][] = [
  ['that stays is a tap', 0, 0, 'tap'],
  ['that slips a little is a tap, whichever way', 25, -25, 'tap'],
  ['that slips down is a tap', 0, 38, 'tap'],
  ['that goes up is a flick', 10, -60, 'flick'],
  ['that goes up no further than a slip is a tap', 0, -39, 'tap'],
  ['that goes sideways more than up is neither', -70, -60, undefined],
  ['that goes far down is neither', 0, 60, undefined],
]
it.each(cases)('a touch %s', (_, dx, dy, touch) => {
  expect(touchOf(dx, dy)).toBe(touch)
})

describe('one touch is told once', () => {
  const told = (dx: number, dy: number): string[] => {
    const all: string[] = []
    const handlers = touched((touch) => all.push(touch))
    const at = (x: number, y: number) => ({ isPrimary: true, button: 0, clientX: x, clientY: y, currentTarget: null }) as unknown as PointerEvent
    vi.stubGlobal('Element', class {})
    handlers.onPointerDown(at(100, 100))
    handlers.onPointerUp(at(100 + dx, 100 + dy))
    handlers.onClick({ detail: 1 } as MouseEvent) // a captured mouse ends its drag with a click on the button
    handlers.onClick({ detail: 0 } as MouseEvent) // then the keyboard
    vi.unstubAllGlobals()
    return all
  }

  it.each([
    ['a tap', 0, 0, ['tap', 'tap']],
    ['a flick', 0, -60, ['flick', 'tap']],
    ['a drag sideways, which is nothing', 100, 0, ['tap']],
    ['a drag down, which is nothing', 0, 70, ['tap']],
  ] as const)('%s, and a key behind it', (_, dx, dy, all) => {
    expect(told(dx, dy)).toEqual(all)
  })
})
