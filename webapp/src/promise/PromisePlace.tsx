// What may be promised: the asks, the answers to them, and what is safe to offer in the weeks to come.

import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'

export function PromisePlace() {
  return <PageHead title={t('promise.title')} back={href('ahead')} />
}
