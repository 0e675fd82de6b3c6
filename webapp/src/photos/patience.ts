// When to try again after something failed.

const first = 1_000
const longest = 300_000

export class Patience {
  /** Nothing is tried before. */
  until = 0
  private wait = first

  /** What was sent got further: the next failure is a first one. */
  gotOn(): void {
    this.wait = first
  }

  /** After 1, 2, 4 s ... 5 min. */
  failed(now: number): void {
    this.until = now + this.wait
    this.wait = Math.min(2 * this.wait, longest)
  }

  long(now: number): void {
    this.until = now + longest
  }

  /** How long a failure after it waits stays as it is: a line that comes and goes is no reason to hurry. */
  atOnce(): void {
    this.until = 0
  }
}
