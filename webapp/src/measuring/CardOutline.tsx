// The card's outline over the camera's picture: white on a dark edge, so that it shows on any ground, and whole
// where all is well, since nothing may be told by colour alone.

import type { Glimpse } from './worker_messages'
import { pathOf } from './outline_path'

export function CardOutline({ glimpse: { width, height, card }, well }: { readonly glimpse: Glimpse; readonly well: boolean }) {
  if (!card) return null
  const path = pathOf(card.corners)
  return (
    <svg class={`outline ${well ? 'well' : ''}`} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      <path class="edge" d={path} />
      <path class="line" d={path} />
    </svg>
  )
}
