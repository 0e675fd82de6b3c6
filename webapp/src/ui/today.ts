// The day on this device's calendar.

import { signal } from '@preact/signals'
import { dayOf } from '../crop/day'
import type { Day } from '../crop/nouns'

export const today = signal<Day>(dayOf(new Date()))

/** Moves on at midnight and whenever the page comes to the front; call once. */
export function followToday(): void {
  const look = () => { today.value = dayOf(new Date()) }
  setInterval(look, 30_000)
  document.addEventListener('visibilitychange', look)
}
