import { expect, it } from 'vitest'
import { asPrinted } from './as_printed'

// By another program, with the matrices that Bruce Lindbloom publishes for sRGB and Bradford (from memory).
it.each([
  ['the darkest grey', 0, 22.62, 0, 0], ['red', 5, 43.69, 57.23, 33.6], ['violet', 9, 36.18, 25.12, -44.72], ['paper', 11, 100, 0, 0],
])('%s has the CIELAB of the sRGB that was sent to the printer', (_, i, L, a, b) => {
  const lab = asPrinted.patches[i]!
  for (const [got, want] of [[lab.L, L], [lab.a, a], [lab.b, b]] as const) expect(Math.abs(got - want)).toBeLessThan(0.02)
})
