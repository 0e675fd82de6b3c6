// When drafts are framed and sent: taps coalesce for a moment first. Moments are those of Moment.now.

/** Until this long after the last tap, and no longer than that after the first. */
const quiet = 300
const longestQuiet = 2_000

export class Ripening {
  private firstTap: number | undefined
  private lastTap = 0

  /** Something was recorded. */
  tapped(now: number): void {
    this.firstTap ??= now
    this.lastTap = now
  }

  framed(): void {
    this.firstTap = undefined
  }

  /** When the drafts are ripe; those of an earlier run of the app are. */
  get at(): number {
    return this.firstTap === undefined ? 0 : Math.min(this.lastTap + quiet, this.firstTap + longestQuiet)
  }
}
