// Where stems stand in a picture of weeks, in pixels from its top.

/** Of the whole picture, and of one that stands beside something else. */
export const [tall, low] = [210, 126] as const

const [top, bottom] = [10, 4] as const

export function heightOf(stems: number, ticks: readonly number[], height: number): number {
  return height - bottom - (stems / (ticks.at(-1) ?? 1)) * (height - bottom - top)
}
