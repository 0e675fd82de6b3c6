// What a screen reader is told about the last action; the shell holds the live region.

import { signal } from '@preact/signals'

export const announcement = signal('')

/** Has a text spoken, the same one too: a live region speaks what has changed, so a space that cannot
 *  be heard comes and goes. */
export function announce(text: string): void {
  announcement.value = announcement.peek() === text ? `${text}\u00a0` : text
}
