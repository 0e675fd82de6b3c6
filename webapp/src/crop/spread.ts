// Whole stems spread over beds and colour classes in proportion to what each may give.

/** Spreads one number after another, and makes up for what rounding did before. */
export class Spread<Of> {
  private readonly carried = new Map<Of, number>()

  /** Whole numbers that add up to n, by weights of which one is above zero; among equals the first gets more. */
  over(n: number, weights: readonly (readonly [Of, number])[]): (readonly [Of, number])[] {
    const all = weights.reduce((sum, [, weight]) => sum + weight, 0)
    const exact = weights.map(([, weight]) => (n * weight) / all)
    const whole = exact.map(Math.floor)
    const owed = weights.map(([of], i) => exact[i]! - whole[i]! + (this.carried.get(of) ?? 0))
    const most = [...weights.keys()].sort((a, b) => owed[b]! - owed[a]! || a - b)
    const rest = n - whole.reduce((sum, one) => sum + one, 0)
    for (const i of most.slice(0, rest)) whole[i]!++
    weights.forEach(([of], i) => this.carried.set(of, (this.carried.get(of) ?? 0) + exact[i]! - whole[i]!))
    return weights.map(([of], i) => [of, whole[i]!] as const)
  }
}
