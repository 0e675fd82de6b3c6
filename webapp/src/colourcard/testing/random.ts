// Numbers that look random and are the same for the same seed on every machine.

export class Random {
  private state: number

  constructor(seed: number) {
    // Neighbouring seeds would begin alike, so they are scattered first (Murmur3's finisher).
    let h = seed | 0
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
    this.state = (h ^ (h >>> 16)) | 0
  }

  /** In [0, 1): Tommy Ettinger's mulberry32. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) | 0
    let t = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.next()
  }

  /** A whole number in [0, n). */
  below(n: number): number {
    return Math.floor(n * this.next())
  }

  /** Standard normal: Box and Muller's. */
  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.next())) * Math.cos(2 * Math.PI * this.next())
  }

  chance(p: number): boolean {
    return this.next() < p
  }

  oneOf<T>(all: readonly T[]): T {
    const one = all[this.below(all.length)]
    if (one === undefined) throw new Error('choosing one of none')
    return one
  }

  /** A seed for something of its own, so that what is drawn for it shifts nothing else. */
  fork(): number {
    return Math.floor(4294967296 * this.next())
  }
}
