// Today: what it asks of who holds this device, each in a line that leads to its page.

import { useEffect } from 'preact/hooks'
import { dateName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { type Asked, isWork } from './asked_today'
import { AskedLine } from './AskedLine'
import { refreshBackup } from './backup_known'
import { FirstWalkOffer } from './FirstWalkOffer'
import { useAskedToday } from './use_asked'

export function StartPage() {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const asked = useAskedToday()
  const live = notebook.sync.value.link === 'live'
  useEffect(() => {
    if (live && may.manage && !farm.madeUp) void refreshBackup(notebook)
  }, [live, may.manage, farm.madeUp])
  const name = farm.people.get(notebook.person.value as Exclude<typeof notebook.person.value, ''>)?.name ?? ''
  const work = asked.filter(isWork)
  const rest = asked.filter((one) => !isWork(one))
  return (
    <>
      <PageHead title={t('place.start')}><SyncChip /></PageHead>
      <div class="page start">
        <p class="small">{[farm.name, dateName(today.value)].filter(Boolean).join(' · ')}</p>
        <Say text={greeting(name, asked.length)} />
        <div class={work.length > 0 && rest.length > 0 ? 'columns' : 'reading'}>
          <Lines title={rest.length > 0 ? t('start.work') : ''} asked={work} />
          <Lines title={work.length > 0 ? t('start.order') : ''} asked={rest} />
        </div>
        <div class="reading"><FirstWalkOffer /></div>
        <p><a class="btn quiet" href={href('start', 'words')}>{t('help.title')}</a></p>
      </div>
    </>
  )
}

function greeting(name: string, n: number): string {
  if (n === 0) return name === '' ? t('start.nothing') : t('start.nothing.named', { name })
  return name === '' ? t('start.asks_of', { n }) : t('start.asks_of.named', { n, name })
}

function Lines({ title, asked }: { readonly title: string; readonly asked: readonly Asked[] }) {
  if (asked.length === 0) return null
  return (
    <section>
      {title !== '' && <h2>{title}</h2>}
      <ul class="rows">{asked.map((one) => <li key={one.kind}><AskedLine asked={one} /></li>)}</ul>
    </section>
  )
}
