// The code in an invitation's link. It is taken out of the address at once, so that neither history nor
// a screenshot of the address bar gives it away.

import { signal } from '@preact/signals'
import { href, partsOf } from '../ui/route'
import { normalCode } from './code'

/** The code that a link brought and nobody has used yet; '' for none. */
export const broughtCode = signal('')

/** The code in an address's fragment, #join/ABCDEFGH; '' where there is none. */
export function codeIn(hash: string): string {
  const [page, code] = partsOf(hash)
  return page === 'join' && code !== undefined ? normalCode(code) : ''
}

/** Takes codes out of the address, now and whenever a link is followed; call once, before followHash. */
export function followLinks(): void {
  takeOut()
  addEventListener('hashchange', takeOut)
}

function takeOut(): void {
  const code = codeIn(location.hash)
  if (code === '') return
  broughtCode.value = code
  history.replaceState(null, '', location.pathname + location.search + href('join'))
}
