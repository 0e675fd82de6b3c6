// Whether the screen is wide enough to show two things side by side.

import { signal } from '@preact/signals'

const query = typeof matchMedia === 'undefined' ? undefined : matchMedia('(min-width: 900px)')

export const wide = signal(query?.matches ?? false)

query?.addEventListener('change', () => { wide.value = query.matches })
