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
  private begunAt = 0

  /** A connection is being made. */
  begun(now: number): void {
    this.at = undefined
    this.begunAt = now
  }

  /** What brings the phone further is on disk. A line that only opens, or greets, brings nothing. */
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
    this.forgetIfItStood(now)
    this.afterWait(now)
  }

  afterRefusal(now: number): void {
    this.forgetIfItStood(now)
    this.wait = Math.max(this.wait, Math.min(firstWait * 2 ** this.refusals++, longestWait))
    this.afterWait(now)
  }

  /** Something is wrong in the app itself. */
  afterFailure(now: number): void {
    this.wait = longestWait
    this.afterWait(now)
  }

  private afterWait(now: number): void {
    this.at = now + this.wait
    this.wait = Math.min(2 * this.wait, longestWait)
  }

  /** A line that stood for longer than any wait was a good one, even where there was nothing to say. */
  private forgetIfItStood(now: number): void {
    if (now - this.begunAt <= longestWait) return
    this.gotOn()
    this.taken()
  }

  muchLater(now: number): void {
    this.at = now + refusedWait
  }
}
