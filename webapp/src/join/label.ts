// The word by which people tell this device from others, until they give it another.

import { t } from '../messages/messages'
import { kindOf, thisBrowser } from './kind'

export function labelHere(): string {
  return t(`kind.${kindOf(thisBrowser())}`)
}
