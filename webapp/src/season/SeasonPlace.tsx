// What is to be done by the stage of the crop and the weather, and the weather itself.

import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'

export function SeasonPlace() {
  return <PageHead title={t('season.tasks')} back={href('ahead')} />
}
