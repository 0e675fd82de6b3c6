// Whole numbers as they are typed.

/** The whole number typed, or undefined where it is none within the bounds. */
export function wholeFrom(text: string, least: number, most: number): number | undefined {
  const digits = text.trim()
  if (!/^\d{1,7}$/.test(digits)) return undefined
  const n = Number(digits)
  return n >= least && n <= most ? n : undefined
}
