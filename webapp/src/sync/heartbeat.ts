// Whether the line still lives (PROTOCOL.md, section 5, 8.): asked after some silence, given up after
// some more. Moments are those of Moment.now.

const silence = 10_000

export class Heartbeat {
  private heardAt = 0
  private askedAt: number | undefined

  /** A line begins, or something was heard on it. */
  heard(now: number): void {
    this.heardAt = now
    this.askedAt = undefined
  }

  get asked(): boolean {
    return this.askedAt !== undefined
  }

  ask(now: number): void {
    this.askedAt = now
  }

  /** It is time to ask: only a shed that has greeted can be. */
  due(now: number): boolean {
    return !this.asked && now >= this.heardAt + silence
  }

  isDead(now: number, greeted: boolean): boolean {
    return now >= this.deadAt(greeted)
  }

  /** When something is to be done again. */
  nextAt(greeted: boolean): number {
    return greeted && !this.asked ? this.heardAt + silence : this.deadAt(greeted)
  }

  private deadAt(greeted: boolean): number {
    const asked = greeted ? this.askedAt : this.heardAt + silence
    return asked === undefined ? Infinity : asked + silence
  }
}
