// Whether the shed can be asked for something now.

import type { Link } from './events'

/**
 * While the device still reads what others recorded the shed answers already: what is shown only within reach must not
 * go and come back with each change that arrives.
 */
export function inReach({ link }: { readonly link: Link }): boolean {
  return link === 'live' || link === 'catching_up'
}
