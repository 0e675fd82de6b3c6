// The shed's door, as whoever opens the notebook needs it: to whom this device belongs.

import type { Member } from '../crop/member'

export interface Door {
  /** Tells whom the shed takes the device for; a shed that is open to all lets it join at once. */
  enter(device: string): Promise<Entry>
}

/** 'join': the shed does not know this device; 'withdrawn': an owner has shut it out. */
export type Barred = 'join' | 'withdrawn'

export type Entry = Entered | { readonly kind: Barred } | { readonly kind: 'unreachable' }

export interface Entered {
  readonly kind: 'member'
  /** The id under which the shed knows this device. */
  readonly device: string
  readonly member: Member
}

export function isBarred(code: string | undefined): code is Barred {
  return code === 'join' || code === 'withdrawn'
}
