// Whether the screen is wide enough to show two things side by side, or three.

import { type ReadonlySignal, signal } from '@preact/signals'

export const wide = matching('(min-width: 900px)')

export const roomy = matching('(min-width: 1600px)')

function matching(media: string): ReadonlySignal<boolean> {
  const query = typeof matchMedia === 'undefined' ? undefined : matchMedia(media)
  const matches = signal(query?.matches ?? false)
  query?.addEventListener('change', () => { matches.value = query.matches })
  return matches
}
