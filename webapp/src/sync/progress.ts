// How far the phone has come, for the screen: what is still to be read, what is still to be sent, what
// the shed has confirmed, and since when nothing is missing.

import type { Pen, Reading } from '../db/records'

export interface Stretch {
  readonly done: number
  readonly total: number
}

/** So many changes to send are worth saying how far it has come. */
const longBacklog = 500

export class Progress {
  /** When the shed last said that nothing was missing, and what it had told was stored, ms since 1970. */
  levelAt = 0
  /** Operations that the shed confirmed since the app started: settled whole, and nothing of them refused. */
  confirmed = 0
  /** While catching up. */
  reading: Stretch | undefined
  /** The arrival number at which the catch-up ends. */
  target = 0
  /** The farm's newest arrival number, as far as told. */
  private newest = 0
  /** When the shed was last heard, ms since 1970: nothing is known of how it stands since. */
  private heardAt = 0
  private unsettled = 0
  /** The most that was to be sent since the last time when nothing was. */
  private backlog = 0

  /** While there is much to send. */
  get sending(): Stretch | undefined {
    return this.backlog < longBacklog ? undefined : { done: this.backlog - this.unsettled, total: this.backlog }
  }

  heard(wall: number): void {
    this.heardAt = wall
  }

  /** A welcome says how far the farm has come. */
  begin(arrival: number): void {
    this.target = this.newest = arrival
  }

  /** News says how far the farm has come. */
  told(newest: number): void {
    this.newest = Math.max(this.newest, newest)
  }

  /** The phone has read up to an arrival number; tells whether it has caught up. */
  reach(arrival: number): boolean {
    const done = arrival >= this.target
    this.reading = done ? undefined : { done: arrival, total: this.target }
    return done
  }

  look({ seq, settled }: Pen): void {
    this.unsettled = seq - settled
    this.backlog = this.unsettled === 0 ? 0 : Math.max(this.backlog, this.unsettled)
  }

  /** What was told is stored, or nothing new was there: perhaps nothing was missing when the shed was heard. */
  lookIfLevel({ staging, cursor }: Reading): void {
    if (!staging && cursor && cursor.arrival >= this.newest) this.levelAt = this.heardAt
  }
}
