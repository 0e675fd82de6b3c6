// What is said of the camera's picture, and when it may be tried. A picture is looked at several times a second, for the
// card alone, since finding the head takes longer: what is wrong must not flicker, and all must have been well for a
// while before a picture is measured whole. What that finds is said until it is tried again.

import type { Point, Problem } from '../colourcard/measurement'

/** Milliseconds for which all must be well, at two looks at least. */
const still = 500
/**
 * Milliseconds for which the head before must have been out of sight: a hand that shakes hides a code for some looks,
 * and the next plant is further off than that.
 */
const away = 1000
/** Parts of the picture's diagonal by which the card's corners may move between two looks. */
const jitter = 0.02

/** What a look found, in a picture of a size in pixels. */
export interface Look {
  readonly width: number
  readonly height: number
  readonly card: { readonly corners: readonly Point[] } | undefined
  readonly problems: readonly Problem[]
}

export interface Said {
  /** What is wrong; undefined where all is well. */
  readonly problem: Problem | undefined
  /** The card may still be that of the head before: it must have been out of sight for a while. */
  readonly stale: boolean
  /** The card has been well for so long that the picture may be tried. */
  readonly ready: boolean
}

export class Steadiness {
  private wellSince: number | undefined
  private before: Look | undefined
  private saidLast: Problem | undefined
  private heardLast: Problem | undefined
  private foundByTrial: Problem | undefined
  private goneSince: number | undefined

  /** Stale where the head before may still be in sight: on a walk it must not be taken for the next plant's. */
  constructor(private stale = false) {}

  /** Takes a look in, at a time in milliseconds, and says what is to be shown after it. */
  after(look: Look, now: number): Said {
    const problem = look.problems[0]
    this.goneSince = look.card ? undefined : this.goneSince ?? now
    if (this.goneSince !== undefined && now - this.goneSince >= away) this.stale = false
    if (problem !== undefined) this.foundByTrial = undefined
    const well = problem === undefined && !this.stale && !this.moved(look)
    this.wellSince = well ? this.wellSince ?? now : undefined
    const { before } = this
    this.before = look
    // One look may err: what it says is believed with the next, but for the first of all, which nothing stands against.
    if (!before || problem === this.heardLast) this.saidLast = problem
    this.heardLast = problem
    const ready = this.wellSince !== undefined && now - this.wellSince >= still
    return { problem: this.saidLast ?? this.foundByTrial, stale: this.stale, ready }
  }

  /** A picture was measured whole, and this is wrong with it. It is tried again after a while. */
  tried(problem: Problem): void {
    this.foundByTrial = problem
    this.wellSince = undefined
  }

  private moved({ card, width, height }: Look): boolean {
    const before = this.before?.card?.corners
    if (!card || !before) return false
    return card.corners.some(({ x, y }, i) => Math.hypot(x - (before[i]?.x ?? x), y - (before[i]?.y ?? y)) > jitter * Math.hypot(width, height))
  }
}
