// Row: which bed, which plant, how many.

import { useEffect } from 'preact/hooks'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { route } from '../ui/route'
import { today } from '../ui/today'
import { ChooseBed } from './ChooseBed'
import { LooksOn } from './LooksOn'
import { PlantList } from './PlantList'
import './row.css'
import { Session } from './session'
import { TakeCare } from './TakeCare'
import { Walk } from './Walk'
import { WalkEnd } from './WalkEnd'

export function RowPlace() {
  const notebook = useNotebook()
  const session = Session.of(notebook)
  const position = session.position.value
  const stale = position !== undefined && position.day !== today.value
  useEffect(() => {
    if (position && stale) session.open(position.bed)
  }, [stale])

  const may = useRights()
  const page = route.value[1]
  if (page === 'care') return <TakeCare />
  if (!may.record) return <LooksOn />
  const bed = position && notebook.farm.value.beds.get(position.bed)
  if (!position || !bed || stale) return <ChooseBed session={session} />
  if (page === 'plants') return <PlantList session={session} bed={bed} at={position.at} />
  const order = session.order(bed.id)
  const plant = order.find((one) => one.id === position.at)
  if (!plant) return <WalkEnd session={session} bed={bed} order={order} />
  return <Walk session={session} bed={bed} order={order} plant={plant} mode={position.mode} />
}
