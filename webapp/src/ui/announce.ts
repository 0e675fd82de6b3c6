// What a screen reader is told about the last action; the shell holds the live region.

import { signal } from '@preact/signals'

export const announcement = signal('')

export function announce(text: string): void {
  announcement.value = text
}
