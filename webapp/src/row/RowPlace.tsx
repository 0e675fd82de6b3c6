// Row: which bed, which plant, how many.

import type { ComponentType } from 'preact'
import { useEffect } from 'preact/hooks'
import type { BedID } from '../crop/nouns'
import { Later } from '../ui/Later'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href, route } from '../ui/route'
import { today } from '../ui/today'
import { ChooseBed } from './ChooseBed'
import { LooksOn } from './LooksOn'
import { PlantList } from './PlantList'
import './row.css'
import { Session } from './session'
import { TakeCare } from './TakeCare'
import { Walk } from './Walk'
import { WalkEnd } from './WalkEnd'
import { WalksPage } from './WalksPage'

// Walks of a week or two in a year: a file of their own, which the service worker keeps too.
const loadRated = (): Promise<ComponentType> => import('./RatedPlace').then((rated) => rated.RatedPlace)
const loadSession = (): Promise<ComponentType> => import('./ColourSessionPlace').then((session) => session.ColourSessionPlace)
const loadScan = (): Promise<ComponentType> => import('./ScanPlant').then((scan) => scan.ScanPlant)
const loadCuts = (): Promise<ComponentType> => import('./CutsPage').then((cuts) => cuts.CutsPage)
const loadWork = (): Promise<ComponentType> => import('../work/WorkPage').then((work) => work.WorkPage)
const loadDivide = (): Promise<ComponentType> => import('./DivideWalk').then((divide) => divide.DivideWalk)

export function RowPlace() {
  const notebook = useNotebook()
  const session = Session.of(notebook)
  const position = session.position.value
  const stale = position !== undefined && position.day !== today.value
  useEffect(() => {
    if (position && stale) session.open(position.bed)
  }, [stale])

  const [, page, asked] = route.value
  useEffect(() => {
    if (page !== 'bed' || asked === undefined) return
    session.open(asked as BedID)
    history.replaceState(null, '', href('row')) // so that going back does not open it again
    route.value = ['row']
  }, [page, asked])

  const may = useRights()
  if (page === 'care') return <TakeCare />
  if (!may.record) return <LooksOn />
  if (page === 'work') return <Later load={loadWork} />
  if (page === 'cuts') return <Later load={loadCuts} />
  if (page === 'divide') return <Later load={loadDivide} />
  if (page === 'scan') return <Later load={loadScan} />
  if (page === 'stand' || page === 'colour') return <Later load={loadRated} />
  if (page === 'measure') return <Later load={loadSession} />
  const walked = page === 'walks' ? notebook.farm.value.beds.get((route.value[2] ?? '') as BedID) : undefined
  if (walked) return <WalksPage bed={walked} session={session} />
  const bed = position && notebook.farm.value.beds.get(position.bed)
  if (!position || !bed || stale) return <ChooseBed session={session} />
  if (page === 'plants') return <PlantList session={session} bed={bed} at={position.at} />
  const order = session.order(bed.id)
  const plant = order.find((one) => one.id === position.at)
  if (!plant) return <WalkEnd session={session} bed={bed} />
  return <Walk session={session} bed={bed} order={order} plant={plant} mode={position.mode} />
}
