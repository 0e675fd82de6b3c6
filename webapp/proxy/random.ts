// Chance that a seed repeats: mulberry32 (Tommy Ettinger, public domain), written from memory.

export class Random {
  private state: number

  constructor(seed: number) {
    this.state = Math.imul(seed, 0x9e3779b1) >>> 0
  }

  /** From 0 up to, not including, 1. */
  next(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0
    let t = this.state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }

  /** A whole number from the first to the last. */
  between(first: number, last: number): number {
    return first + Math.floor(this.next() * (last - first + 1))
  }

  /** Like between, but each power of ten is as likely as the next: where a line breaks. */
  magnitude(first: number, last: number): number {
    return Math.round(first * (last / first) ** this.next())
  }

  chance(probability: number): boolean {
    return this.next() < probability
  }

  pick<T>(from: readonly T[]): T {
    return from[this.between(0, from.length - 1)]!
  }

  /** Its own chance, for an actor whose turns should not move those of others. */
  fork(): Random {
    return new Random(this.between(1, 2 ** 31))
  }

  bytes(n: number): Uint8Array {
    return Uint8Array.from({ length: n }, () => this.between(0, 255))
  }
}
