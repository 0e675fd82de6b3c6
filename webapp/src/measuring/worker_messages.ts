// What the page and the worker that measures say to each other.

import type { Lab } from '../colour/lab'
import type { CardSeen } from '../colourcard/characterise'
import type { Measurement, Point, Problem } from '../colourcard/measurement'
import type { Day } from '../crop/nouns'
import type { Prepared } from '../photos/prepare'
import type { KnownCards } from './known_cards'

export type Question =
  /** Looks at what the camera sees. Uses the frame up. */
  | { readonly kind: 'look'; readonly frame: ImageBitmap; readonly cards: KnownCards }
  /** Measures a file, or what the camera saw; it stays at hand for `again` and `prepare` until the next. */
  | { readonly kind: 'measure'; readonly still: Blob | ImageBitmap; readonly cards: KnownCards }
  /** Measures the same picture where somebody touched the head; without points, where it is proposed. */
  | { readonly kind: 'again'; readonly touched: readonly Point[] | undefined; readonly cards: KnownCards }
  /** Finds the colours of a batch's card in a file, beside a card that is known, or a patch where it was tapped. */
  | { readonly kind: 'characterise'; readonly still: Blob; readonly batch: string; readonly beside: CardBeside }
  /** Reads what the other codes in the same picture say: a plant's tag may be among them. */
  | { readonly kind: 'tags' }
  /** Makes of the same picture what is kept of it. */
  | { readonly kind: 'prepare' }

/** What stands beside a card whose colours are to be found; a patch by shares of the picture's width and height. */
export type CardBeside =
  | { readonly kind: 'card'; readonly cards: KnownCards }
  | { readonly kind: 'patch'; readonly lab: Lab; readonly se: number; readonly at: Point }

/** A question, which of them it is, and the address of the wasm that reads codes. */
export type Asked = Question & { readonly id: number; readonly wasm: string }

/** What a look found. */
export interface Glimpse {
  /** The size of the picture that was looked at, in which the card's corners are. */
  readonly width: number
  readonly height: number
  readonly card: Measurement['card']
  /** The one to mend first comes first; none where a picture may be taken. */
  readonly problems: readonly Problem[]
  /** No colour could be told of a head beside it. */
  readonly refused: boolean
}

export interface Measured {
  readonly picture: Blob
  readonly width: number
  readonly height: number
  readonly measurement: Measurement
  /** What the file says of its camera; '' where it says nothing. */
  readonly camera: string
  /** The day on which the file says that it was taken; '' where it says none. */
  readonly day: Day | ''
}

export type Step = 'opening' | 'measuring'

/** Why nothing came of a question; 'unreadable': the browser does not know the file's format; 'pixels': too many. */
export type FailureReason = 'unreadable' | 'pixels' | 'other'

export type Answer =
  | { readonly id: number; readonly step: Step }
  | { readonly id: number; readonly glimpse: Glimpse }
  | { readonly id: number; readonly measured: Measured }
  | { readonly id: number; readonly remeasured: Measurement }
  | { readonly id: number; readonly cardSeen: CardSeen }
  | { readonly id: number; readonly tags: readonly string[] }
  | { readonly id: number; readonly prepared: Prepared }
  | { readonly id: number; readonly failed: FailureReason; readonly why: string }
