// Choosing counted plants at random: the plants in walk order are cut into as many stretches as are
// wanted, and one is drawn from each, so that the choice is random and spread along the bed.

/** Draws `wanted` of the items, one from each of as many even stretches; all where there are fewer. */
export function chooseSpread<T>(items: readonly T[], wanted: number, seed: number): T[] {
  const n = Math.min(wanted, items.length)
  const random = mulberry32(seed)
  const chosen: T[] = []
  for (let i = 0; i < n; i++) {
    const from = Math.floor((i * items.length) / n)
    const to = Math.floor(((i + 1) * items.length) / n)
    const item = items[from + Math.floor(random() * (to - from))]
    if (item !== undefined) chosen.push(item)
  }
  return chosen
}

/** Tommy Ettinger's mulberry32: numbers in [0, 1), the same for the same seed on every device. */
export function mulberry32(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let z = state
    z = Math.imul(z ^ (z >>> 15), z | 1)
    z ^= z + Math.imul(z ^ (z >>> 7), z | 61)
    return ((z ^ (z >>> 14)) >>> 0) / 4_294_967_296
  }
}

/** A seed short enough to be read out and written down. */
export function newSeed(): number {
  return crypto.getRandomValues(new Uint32Array(1))[0]! % 100_000
}
