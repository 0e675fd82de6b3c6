// Stems and bunches: what a tap on the bench adds, and how a number of stems reads in bunches.

export type Adds = 'bunch' | 'five' | 'stem'

/** Stems that one tap adds. */
export function stemsAdded(adds: Adds, bunch: number): number {
  if (adds === 'stem') return 1
  return adds === 'five' ? bunch * 5 : bunch
}

export interface Bunched {
  readonly bunches: number
  readonly loose: number
}

export function bunched(stems: number, bunch: number): Bunched {
  return { bunches: Math.floor(stems / bunch), loose: stems % bunch }
}

/** Sizes that a bunch may have: 5 and 10 and their like, and any the trade ties. */
export function bunchSizeFrom(text: string): number | undefined {
  const n = Number(text.trim())
  return Number.isInteger(n) && n >= 2 && n <= 100 ? n : undefined
}
