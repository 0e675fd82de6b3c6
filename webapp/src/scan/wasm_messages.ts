// What the page and the worker that reads codes say to each other.

import type { Seen } from './reader'

export interface Question {
  readonly id: number
  /** The address of the wasm. */
  readonly wasm: string
  readonly picture: ImageData
}

export type Answer =
  | { readonly id: number; readonly seen: readonly Seen[] }
  | { readonly id: number; readonly failed: string }
