// Which plants to keep, divide, lift or replace, to reach a goal in the seasons to come.

import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'

export function DivisionPlace() {
  return <PageHead title={t('division.title')} back={href('ahead')} />
}
