// Shed: the bench, the sync, what needs a look, and the settings.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href, route } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { BackupCard } from './BackupCard'
import { BenchDay } from './BenchDay'
import { BenchEntry } from './BenchEntry'
import { Bench } from './bench'
import { Looks } from './Looks'
import { Settings } from './Settings'
import './shed.css'
import { SyncCard } from './SyncCard'

export function ShedPlace() {
  const bench = Bench.of(useNotebook())
  if (route.value[1] === 'settings') return <Settings />
  return (
    <>
      <PageHead title={t('place.shed')}>
        <SyncChip />
        <a class="btn quiet" href={href('shed', 'settings')} aria-label={t('settings.title')}><Icon name="settings" /></a>
      </PageHead>
      <div class="page">
        <div class="columns shed">
          <div>
            <BenchEntry bench={bench} />
            <BenchDay date={bench.date.value} />
            <BackupCard />
          </div>
          <div>
            <Looks />
            <SyncCard />
          </div>
        </div>
      </div>
    </>
  )
}
