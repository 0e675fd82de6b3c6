// A choice that goes up and down by one thumb.

import type { ComponentChild } from 'preact'

interface MoreOrLessProps {
  readonly label: ComponentChild
  readonly note?: string
  readonly less: string
  readonly more: string
  /** undefined at the end. */
  readonly onLess: (() => void) | undefined
  readonly onMore: (() => void) | undefined
}

export function MoreOrLess({ label, note, less, more, onLess, onMore }: MoreOrLessProps) {
  return (
    <div class="more-or-less">
      <button type="button" class="btn" aria-label={less} disabled={!onLess} onClick={onLess}>−</button>
      <p role="status">{label}{note !== undefined && <span class="small block">{note}</span>}</p>
      <button type="button" class="btn" aria-label={more} disabled={!onMore} onClick={onMore}>+</button>
    </div>
  )
}
