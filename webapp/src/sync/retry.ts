// When to try again after a line was lost or refused (PROTOCOL.md, section 5, 8.). Moments are those
// of Moment.now.

const firstWait = 1_000
const longestWait = 30_000
/** After a refusal that trying again at once would not heal. */
const refusedWait = 300_000

export class Retry {
  /** When to connect again; undefined while there is a line. */
  at: number | undefined = 0
  private wait = firstWait
  /** Refusals in turn that time alone heals: a line that opens and is refused again is no reason to hurry. */
  private refusals = 0

  /** A connection is being made. */
  begun(): void {
    this.at = undefined
  }

  /** Something told on the line is on disk. */
  gotOn(): void {
    this.wait = firstWait
  }

  /** The shed took what it had refused, or there is nothing to refuse. */
  taken(): void {
    this.refusals = 0
  }

  atOnce(now: number): void {
    this.at = now
  }

  /** After 1, 2, 4 ... 30 s. */
  soon(now: number): void {
    this.at = now + this.wait
    this.wait = Math.min(2 * this.wait, longestWait)
  }

  afterRefusal(now: number): void {
    this.wait = Math.max(this.wait, Math.min(firstWait * 2 ** this.refusals++, longestWait))
    this.soon(now)
  }

  /** Something is wrong in the app itself. */
  afterFailure(now: number): void {
    this.wait = longestWait
    this.soon(now)
  }

  muchLater(now: number): void {
    this.at = now + refusedWait
  }
}
