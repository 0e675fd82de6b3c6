// Shed: the bench, the sync, what needs a look, and the settings.

import type { ComponentType } from 'preact'
import { CoolerCare } from '../cooler/CoolerCare'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { Later } from '../ui/Later'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href, route } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { WorkEntry } from '../work/WorkEntry'
import { AboutPage } from './AboutPage'
import { BackupCard } from './BackupCard'
import { BenchDay } from './BenchDay'
import { BenchEntry } from './BenchEntry'
import { Bench } from './bench'
import { CardsPlace } from './CardsPage'
import { DevicesLink } from './DevicesLink'
import { DevicesPage } from './DevicesPage'
import { KeySettings } from './KeySettings'
import { LeavePage } from './LeavePage'
import { Looks } from './Looks'
import { Repeats } from './Repeats'
import { Settings } from './Settings'
import { SheetPage } from './SheetPage'
import { ShedDaySteps } from './ShedDaySteps'
import './shed.css'
import { SyncCard, usePressing } from './SyncCard'
import { SyncPage } from './SyncPage'

/** Pages whose code comes when they are first opened, by the second part of their address. */
const loadCooler = (): Promise<ComponentType> => import('../cooler/CoolerPlace').then((cooler) => cooler.CoolerPlace)
const later: Readonly<Record<string, () => Promise<ComponentType>>> = {
  orders: () => import('../orders/OrdersPlace').then((orders) => orders.OrdersPlace),
  packing: () => import('../packing/PackingPlace').then((packing) => packing.PackingPlace),
  papers: () => import('../papers/PapersPlace').then((papers) => papers.PapersPlace),
  availability: () => import('../papers/AvailabilityPage').then((papers) => papers.AvailabilityPage),
  work: () => import('../work/WorkPage').then((work) => work.WorkPage),
  files: () => import('../sheets/FilesPage').then((sheets) => sheets.FilesPage),
  cooler: loadCooler, lot: loadCooler, claims: loadCooler,
}

export function ShedPlace() {
  const bench = Bench.of(useNotebook())
  const may = useRights()
  const pressing = usePressing()
  if (route.value[1] === 'settings') return <Settings />
  if (route.value[1] === 'devices') return <DevicesPage />
  if (route.value[1] === 'keys') return <KeySettings />
  if (route.value[1] === 'about') return <AboutPage />
  if (route.value[1] === 'sheet') return <SheetPage />
  if (route.value[1] === 'cards') return <CardsPlace />
  if (route.value[1] === 'sync') return <SyncPage />
  if (route.value[1] === 'leave') return <LeavePage />
  const page = route.value[1] ?? ''
  const load = later[page]
  if (load) return <Later key={page} load={load} />
  return (
    <>
      <PageHead title={t('place.shed')}>
        <SyncChip />
        <a class="btn quiet" href={href('shed', 'settings')} aria-label={t('settings.title')}><Icon name="settings" /></a>
      </PageHead>
      <div class="page">
        <ShedDaySteps />
        <div class="columns shed">
          <div>
            {may.record ? <BenchEntry bench={bench} /> : <p class="note">{t('looks_on.bench')}</p>}
            <BenchDay date={bench.date.value} />
            <a class="btn tall" href={href('shed', 'sheet')}><Icon name="list" />{t('sheet.title')}</a>
            <a class="btn tall" href={href('shed', 'cards')}><Icon name="colours" />{t('cards.title')}</a>
            <WorkEntry from="shed" />
            <CoolerCare />
            {may.manage && <BackupCard />}
            {may.manage && <a class="btn tall" href={href('shed', 'files')}><Icon name="share" />{t('files.title')}</a>}
          </div>
          <div class="first">
            <Looks bench={bench} />
            <Repeats />
          </div>
          <div class={pressing ? 'first' : ''}>
            <SyncCard />
            {may.manage && <DevicesLink />}
          </div>
        </div>
      </div>
    </>
  )
}
