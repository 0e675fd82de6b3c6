// The light that was told last, while the app is open and for as long as a session may take: it seldom changes from
// plant to plant, and after some hours it surely has.

import type { Light } from '../crop/nouns'

const hours = 3 * 3_600_000

let last: { readonly light: Light; readonly at: number } | undefined

export function lightBefore(now = Date.now()): Light | undefined {
  return last && now - last.at < hours ? last.light : undefined
}

export function rememberLight(light: Light, now = Date.now()): void {
  last = { light, at: now }
}
