// The open app: the bar, the place, and what must be said above it.

import type { ComponentType } from 'preact'
import { useEffect } from 'preact/hooks'
import { refreshAges } from '../beds/ages'
import { keepCodes } from '../beds/codes'
import { refreshColours } from '../beds/colours'
import { followClashes } from '../forecast/clashes_now'
import { forecast } from '../forecast/forecast'
import { t } from '../messages/messages'
import { Lock } from '../row/Lock'
import { RowPlace } from '../row/RowPlace'
import { FirstWalkLine } from '../start/FirstWalkLine'
import { useMorning } from '../start/morning'
import { StartPlace } from '../start/StartPlace'
import { announcement } from '../ui/announce'
import { Later } from '../ui/Later'
import { useNotebook } from '../ui/notebook'
import { route } from '../ui/route'
import { wide } from '../ui/wide'
import { Bar, type Place, places } from './Bar'
import { BarredLine } from './BarredLine'
import { lookForUpdate } from './field'
import { PhotoLine } from './PhotoLine'
import { ReadySign } from './ReadySign'
import { StorageLine } from './StorageLine'
import { UpdateBanner } from './UpdateBanner'

// Today and Row are there at once; the others come as files of their own, which the service worker keeps too.
const loadShed = (): Promise<ComponentType> => import('../shed/ShedPlace').then((shed) => shed.ShedPlace)
const loadBeds = (): Promise<ComponentType> => import('../beds/BedsPlace').then((beds) => beds.BedsPlace)
const loadAhead = (): Promise<ComponentType> => import('../ahead/AheadPlace').then((ahead) => ahead.AheadPlace)
const loadMoney = (): Promise<ComponentType> => import('../money/MoneyPlace').then((money) => money.MoneyPlace)

function ShedLater() {
  return <Later load={loadShed} />
}

function BedsLater() {
  return <Later load={loadBeds} />
}

function AheadLater() {
  return <Later load={loadAhead} />
}

function MoneyLater() {
  return <Later load={loadMoney} />
}

const pages: Readonly<Record<Place | 'start', ComponentType>> = {
  start: StartPlace, row: RowPlace, shed: ShedLater, beds: BedsLater, ahead: AheadLater, money: MoneyLater,
}

export function Shell() {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  useEffect(() => {
    void refreshAges(notebook, 'recent') // to take along; the pages that show them ask for the newest
    void refreshColours(notebook)
    void forecast.refresh(notebook, 'recent') // an ask is answered where there is no signal
    void keepCodes(notebook)
    if (live) lookForUpdate()
  }, [live])
  useEffect(() => followClashes(notebook), [notebook])
  useMorning()
  const at = route.value[0] === 'start' ? 'start' : places.find((place) => place === route.value[0]) ?? 'row'
  const Page = pages[at]
  useEffect(() => { document.title = t('title', { place: t(`place.${at}`) }) })
  return (
    <div class="shell">
      <Bar at={at} />
      <main>
        <FirstWalkLine />
        <UpdateBanner walking={at === 'row'} />
        {at !== 'shed' && <BarredLine />}
        {at !== 'shed' && <StorageLine />}
        <PhotoLine />
        {notebook.farm.value.madeUp && !wide.value && <p class="made-up">{t('made_up')}</p>}
        <Page />
        {at === 'shed' && !wide.value && <ReadySign />}
      </main>
      <Lock />
      <p class="unseen" role="status" aria-live="polite">{announcement.value}</p>
    </div>
  )
}
