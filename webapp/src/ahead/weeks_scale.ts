// Where stems stand in a picture of weeks, in pixels from its top.

export const drawing = { height: 210, top: 10, bottom: 4 } as const

export function heightOf(stems: number, ticks: readonly number[]): number {
  const bottom = drawing.height - drawing.bottom
  return bottom - (stems / (ticks.at(-1) ?? 1)) * (bottom - drawing.top)
}
