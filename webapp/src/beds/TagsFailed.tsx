// Why the shed printed no tag, and what to do.

import { hasMessage, tCode } from '../messages/messages'
import type { NotPrinted } from './tags'

export function TagsFailed({ code, ...args }: NotPrinted) {
  const key = `tags.failed.${code}`
  return <p class="note stop" role="alert">{tCode(hasMessage(key) ? key : 'tags.failed.other', { ...args })}</p>
}
