// What goes into measuring a head's colour in a photo, and what comes out of it.

import type { Lab } from '../colour/lab'

/** A photo's pixels, upright, in rows: red, green, blue and alpha, as they are encoded in its colour space. */
export interface Photo {
  readonly data: Uint8ClampedArray
  readonly width: number
  readonly height: number
  readonly space: 'srgb' | 'display-p3'
}

/** In pixels of a photo from its upper left corner, where the middle of the first pixel is 0.5, 0.5. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** A QR code that was read. */
export interface Code {
  readonly text: string
  /** Its outer corners, upper left first and clockwise as the code is read. */
  readonly corners: readonly [Point, Point, Point, Point]
}

/** Finds the QR codes in a photo. Browsers and Node each bring their own. */
export type ReadCodes = (photo: Photo) => Promise<readonly Code[]>

/** What is known of a print batch of cards. */
export interface KnownCard {
  /** In the order of the geometry's colours. */
  readonly patches: readonly Lab[]
  /** Standard uncertainty of a patch in each component. */
  readonly se: number
  /** Real millimetres in one of the geometry's: a printer may have scaled the page. */
  readonly scale: number
  /** Standard uncertainty of that. */
  readonly scaleSE: number
  readonly retired: boolean
}

export interface Asked {
  /** What is known of a batch; undefined where it has not been characterised. */
  readonly cardOf: (batch: string) => KnownCard | undefined
  /** Where somebody tapped or stroked over the head; without, it is proposed. */
  readonly touched?: readonly Point[]
}

/**
 * What is wrong with a photo. For some it is refused, some widen what is stated of it, and each costs quality.
 */
export const problems = [
  'blurred', 'dark', 'no_card', 'burnt_out', 'lost_colour', 'other_layout', 'retired_card', 'faded_card', 'unknown_card', 'far', 'cut_off', 'slanted', 'glare',
  'covered', 'uneven_light', 'no_head', 'head_apart', 'head_cut_off', 'head_unclear', 'out_of_plane',
] as const
export type Problem = (typeof problems)[number]

export interface Measurement {
  readonly card: FoundCard | undefined
  /** CIELAB, D50; undefined where the photo is refused. */
  readonly lab: Lab | undefined
  /** Standard uncertainty of each component. */
  readonly se: Lab | undefined
  /** The head's spread in centimetres and its standard uncertainty. */
  readonly spread: number | undefined
  readonly spreadSE: number | undefined
  readonly head: FoundHead | undefined
  /** 0 to 100: how much of what may be wrong is not. */
  readonly quality: number
  /** The one to mend first comes first. */
  readonly problems: readonly Problem[]
  readonly refused: boolean
}

export interface FoundCard {
  readonly batch: string
  readonly version: number
  /** Its corners in the photo, upper left first and clockwise as the card is read. */
  readonly corners: readonly [Point, Point, Point, Point]
}

export interface FoundHead {
  /** Its outline in the photo. */
  readonly outline: readonly Point[]
  /** Where it came from. */
  readonly by: 'proposed' | 'touched'
}
