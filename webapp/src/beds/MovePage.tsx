// Moving a plant to another place, on a day; or putting its place right where it was written down wrong.

import { useMemo, useState } from 'preact/hooks'
import { correctPlace, move } from '../crop/lineage'
import type { Day } from '../crop/nouns'
import { placeKey, placeOf } from '../crop/places'
import { dayName, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { wide } from '../ui/wide'
import { placeWritten, whereStands } from '../ui/words'
import { DayField, dayFits } from './DayField'
import { DeedNote } from './DeedNote'
import { isTaken, moveName } from './divide_form'
import { PlacePicker } from './PlacePicker'
import { bedToBegin, pickedIn, placesOf } from './place_picker'
import type { PlantActionProps } from './PlantActionPage'
import { Stopped } from './Stopped'
import { Hindered, useDeed } from './use_deed'

export function MovePage({ plant }: PlantActionProps) {
  const farm = useNotebook().farm.value
  const [picked, setPicked] = useState(() => pickedIn(bedToBegin(farm, plant)))
  const [day, setDay] = useState(today.peek())
  const [why, setWhy] = useState<'moved' | 'wrong'>('moved')
  const lifted = why === 'moved'
  const doing = useDeed()
  const from: Day | '' = plant.places[0]?.since ?? farm.plantings.get(plant.planting)?.planted ?? ''
  const at = placeOf(farm, plant)
  const [to] = placesOf(picked, 1) ?? []
  const taken = useMemo(() => to !== undefined && isTaken(farm, to, plant.id), [farm, to && placeKey(to)])
  const record = () => doing.act((now) => {
    const it = now.plants.get(plant.id)
    if (!it || !to) throw new Hindered(t('lineage.changed'))
    if (isTaken(now, to, it.id)) throw new Hindered(t('lineage.place_taken'))
    const place = placeWritten(now, to)
    return lifted
      ? { deed: move(now, it, to, day, moveName()), said: t('lineage.moved', { code: it.code, place, day: dayName(day, today.peek()) }) }
      : { deed: correctPlace(now, it, to, today.peek(), moveName()), said: t('lineage.place_corrected', { code: it.code, place }) }
  })
  const plantLink = <a class="btn" href={href('beds', 'plant', plant.id)}>{t('lineage.back_to', { code: plant.code })}</a>
  if (doing.done) return <div class="reading divided"><DeedNote {...doing} />{plantLink}</div>
  if (plant.removed !== '') return <Stopped plant={plant} why="gone" />
  const moves = (
    <>
      <DeedNote {...doing} />
      {(!to || taken) && <p class="small" role="status">{t(taken ? 'lineage.lacking.taken' : 'lineage.lacking.goes')}</p>}
      <button type="button" class="btn main" disabled={!to || taken || (lifted && !dayFits(day, from))} onClick={() => void record()}>{t(lifted ? 'lineage.move.do' : 'lineage.wrong.do')}</button>
    </>
  )
  return (
    <div class="columns">
      <div>
        <p>{t('lineage.move.from', { place: at ? placeWritten(farm, at) : whereStands(farm, plant) })}</p>
        <Choice name={t('lineage.move.why')} value={why} onChoose={setWhy} options={[['moved', t('lineage.move.lifted')], ['wrong', t('lineage.wrong')]]} />
        {lifted && <div class="note"><p>{t('lineage.move.care')}</p><a class="own-line" href={href('row', 'care')}>{t('care.title')}</a></div>}
        {lifted && <section class="card"><DayField name={t('lineage.move.day')} day={day} from={from} onDay={setDay} /></section>}
        <p class="small">{t(lifted ? 'lineage.move.counts' : 'lineage.wrong.counts')}</p>
        {wide.value && moves}
      </div>
      <div>
        <PlacePicker title={t(lifted ? 'lineage.move.to' : 'lineage.wrong.to')} picked={picked} wanted={1} onPick={setPicked} />
        {!wide.value && moves}
      </div>
    </div>
  )
}
