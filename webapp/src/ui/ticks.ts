// Round numbers along a scale.

/** Four or five round steps that reach the largest number. */
export function ticksTo(largest: number): number[] {
  const rough = largest / 4
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = Math.max(1, [1, 2, 2.5, 5, 10].map((m) => m * power).find((s) => s >= rough && (power > 1 || Number.isInteger(s))) ?? 1)
  const n = Math.ceil(largest / step)
  return Array.from({ length: n + 1 }, (_, i) => i * step)
}
