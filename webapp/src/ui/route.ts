// Where in the app one is: the hash, so that a page reloads offline under any server path.

import { signal } from '@preact/signals'

/** The hash's parts: ['beds', 'b4'] for #/beds/b4. */
export const route = signal<readonly string[]>(partsOf(currentHash()))

function currentHash(): string {
  return typeof location === 'undefined' ? '' : location.hash
}

export function partsOf(hash: string): string[] {
  return hash.replace(/^#\/?/, '').split('/').filter((part) => part !== '').map(decoded)
}

/** A part as it was meant; one with a stray % in it, as it stands. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part)
  } catch {
    return part
  }
}

/** The address of a place or page; ids may hold any character. */
export function href(...parts: readonly string[]): string {
  return '#/' + parts.map(encodeURIComponent).join('/')
}

export function go(...parts: readonly string[]): void {
  location.hash = href(...parts)
}

/** Goes to a page in place of this one: the way back leads past it. */
export function goInstead(...parts: readonly string[]): void {
  location.replace(href(...parts))
}

/** Follows the address bar; call once. */
export function followHash(): void {
  addEventListener('hashchange', () => {
    route.value = partsOf(currentHash())
    scrollTo(0, 0)
  })
}
