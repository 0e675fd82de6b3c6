// What is to be recorded at one tap, and what takes it back.

import type { Fact } from '../log/change'

export interface Deed {
  readonly facts: readonly Fact[]
  /** Takes it back; empty where nothing is to be taken back. */
  readonly undo: readonly Fact[]
}

/** Several deeds as one. */
export function together(...deeds: readonly Deed[]): Deed {
  return { facts: deeds.flatMap(({ facts }) => facts), undo: deeds.flatMap(({ undo }) => undo) }
}
