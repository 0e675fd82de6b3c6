// How far an invoice is paid, in words.

import type { Paid } from '../crop/paid'
import { t } from '../messages/messages'

/** "unpaid, overdue" */
export function paidText({ state, overdue }: Pick<Paid, 'state' | 'overdue'>): string {
  const said = t(`paid.${state}`)
  return overdue ? t('paid.overdue', { said }) : said
}
