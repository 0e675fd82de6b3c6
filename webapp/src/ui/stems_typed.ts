// A number of stems as it is typed.

/** From 1 on; undefined where it is none. */
export function stemsTyped(text: string): number | undefined {
  const digits = text.trim()
  if (!/^\d{1,5}$/.test(digits)) return undefined
  const n = Number(digits)
  return n > 0 ? n : undefined
}
