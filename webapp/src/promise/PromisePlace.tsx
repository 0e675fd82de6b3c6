// What may be promised: the asks, the answers to them, and what is safe to offer in the weeks to come.

import type { AskID } from '../crop/ahead_nouns'
import { route } from '../ui/route'
import { AskPage } from './AskPage'
import { AsksPage } from './AsksPage'
import './promise.css'

export function PromisePlace() {
  const [, page = '', id = ''] = route.value
  return page === 'asks' ? <AsksPage /> : <AskPage ask={id as AskID | ''} />
}
