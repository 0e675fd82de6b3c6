// What the session is told, and what it asks to be carried out.

import type { Write } from '../db/records'

/** A moment: `now` never goes back and drives the waiting; `wall` is ms since 1970 and may be wrong. */
export interface Moment {
  readonly now: number
  readonly wall: number
}

export type SessionEvent =
  | { readonly kind: 'opened' | 'closed' | 'stored' | 'store_failed' | 'tick' }
  /** Something was wrong in the app itself while an event was handled or carried out. */
  | { readonly kind: 'failed' }
  /** The page came to the front, the network returned, or a person asks to try again. */
  | { readonly kind: 'wake'; readonly insist?: boolean }
  /** Something was recorded. */
  | { readonly kind: 'recorded' }
  /** Another person holds the phone. */
  | { readonly kind: 'person' }
  | { readonly kind: 'message'; readonly data: string | Uint8Array }

/**
 * Carried out in turn. After a 'store' that succeeded the machine is told 'stored', and may then
 * connect: a 'close' stands before a 'store'.
 */
export type Effect =
  | { readonly kind: 'connect' }
  | { readonly kind: 'close' }
  | { readonly kind: 'send'; readonly data: string | Uint8Array }
  | { readonly kind: 'store'; readonly writes: readonly Write[] }

export interface Identity {
  readonly device: string
  person(): string
  newIncarnation(): string
}

export type Link = 'offline' | 'connecting' | 'catching_up' | 'live' | 'refused'
