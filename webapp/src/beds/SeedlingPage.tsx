// A seedling that nobody planted came up: at a plant's foot, or in a gap of its bed. It gets a code and a
// stock of its own, and no parents.

import type { ComponentChildren } from 'preact'
import { useMemo, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { protectedStock, stockOf } from '../crop/lineage'
import type { BedID, Farm, Place, PlantID, Season } from '../crop/nouns'
import { placeKey } from '../crop/places'
import { firstSeasonOf } from '../crop/planting_out'
import { type Seedling, selfSow } from '../crop/seedlings'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href, route } from '../ui/route'
import { today } from '../ui/today'
import { wide } from '../ui/wide'
import { codesLeft } from './codes'
import { DayField, dayFits } from './DayField'
import { DeedNote } from './DeedNote'
import { isTaken } from './divide_form'
import { FirstSeasonField } from './FirstSeasonField'
import { groundFor, stockOfNew } from './ground'
import { BedChoice, PlacePicker } from './PlacePicker'
import { bedToBegin, type Picked, pickedIn, placesOf } from './place_picker'
import type { PlantActionProps } from './PlantActionPage'
import { codesFor, Hindered, useDeed } from './use_deed'

export function SeedlingPage({ plant }: PlantActionProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const its = bedToBegin(farm, plant)
  const [picked, setPicked] = useState<Picked>(() => ({ ...pickedIn(its), places: its === '' ? [] : gapAsked(its) }))
  const { bed } = picked
  const [atFoot, setAtFoot] = useState(picked.places.length === 0)
  const [day, setDay] = useState(today.peek())
  const [chosen, setSeason] = useState<Season | undefined>(undefined)
  const [entered, setEntered] = useState<Seedling | undefined>(undefined)
  const doing = useDeed()
  const season = chosen ?? firstSeasonOf(farm.calendar, day)
  const [gap] = placesOf(picked, 1) ?? []
  const at: Seedling['at'] | undefined = bed === '' ? undefined : atFoot ? { beside: plant.id } : gap && { gap }
  const taken = useMemo(() => !atFoot && gap !== undefined && isTaken(farm, gap, ''), [farm, atFoot, gap && placeKey(gap)])
  const record = () => doing.act((now) => {
    const it = now.plants.get(plant.id)
    if (!it || !at || bed === '') throw new Hindered(t('lineage.changed'))
    if ('gap' in at && isTaken(now, at.gap, '')) throw new Hindered(t('lineage.place_taken'))
    const { codes, alongside } = codesFor(notebook, now, 1)
    const seedling = { id: newUUID() as PlantID, code: codes[0] ?? '', at }
    setEntered(seedling)
    return { deed: selfSow(now, seedling, groundFor(now, it, 'self_sown', bed, day, season)), alongside, said: t('lineage.seedling.entered', { code: seedling.code }) }
  })
  const enter = (
    <>
      <DeedNote {...doing} />
      {taken && <p class="small" role="status">{t('lineage.lacking.taken')}</p>}
      {codesLeft(notebook) < 1 && <p class="note warn">{t('lineage.codes.few', { n: 1 })}</p>}
      <button type="button" class="btn main" disabled={!at || taken || !dayFits(day, '') || codesLeft(notebook) < 1} onClick={() => void record()}>{t('lineage.seedling.do')}</button>
    </>
  )
  if (doing.done && entered && bed !== '') return <Entered seedling={entered} bed={bed} note={<DeedNote {...doing} />} />
  return (
    <div class="columns">
      <div>
        <p>{t('lineage.seedling.what')}</p>
        {protectedStock(farm, plant) && <p class="note warn">{t('lineage.seedling.protected', { stock: protectedStock(farm, plant)?.name ?? '' })}</p>}
        <section class="card">
          {its === '' && <BedChoice farm={farm} bed={bed} onChoose={(id) => setPicked(pickedIn(id))} />}
          <fieldset class="field">
            <legend>{t('lineage.seedling.where')}</legend>
            <div class="choices">
              <button type="button" class="btn" aria-pressed={atFoot} onClick={() => setAtFoot(true)}>{t('lineage.seedling.foot', { code: plant.code })}</button>
              <button type="button" class="btn" aria-pressed={!atFoot} onClick={() => setAtFoot(false)}>{t('lineage.seedling.gap')}</button>
            </div>
          </fieldset>
          <DayField name={t('lineage.seedling.day')} day={day} from="" onDay={(told) => { setDay(told); setSeason(undefined) }} />
          <FirstSeasonField calendar={farm.calendar} day={day} season={season} onSeason={setSeason} />
          <StockSentence farm={farm} plant={plant} />
        </section>
        {(atFoot || wide.value) && enter}
      </div>
      {!atFoot && (
        <div>
          <PlacePicker title={t('lineage.seedling.gap')} picked={picked} wanted={1} placeless={false} fixed onPick={setPicked} />
          {!wide.value && enter}
        </div>
      )}
    </div>
  )
}

function StockSentence({ farm, plant }: { readonly farm: Farm } & PlantActionProps) {
  const from = stockOf(farm, plant)
  if (!from) return null
  const { stock, isNew } = stockOfNew(farm, from, 'self_sown')
  return <p>{t(isNew ? 'lineage.seedling.stock.new' : 'lineage.seedling.stock.has', { stock: stock.name })}</p>
}

interface EnteredProps {
  readonly seedling: Seedling
  readonly bed: BedID
  readonly note: ComponentChildren
}

function Entered({ seedling: { id, code }, bed, note }: EnteredProps) {
  return (
    <div class="reading divided">
      {note}
      <p>{t('lineage.seedling.tag')}</p>
      <a class="btn" href={href('beds', 'tags', bed, id)}>{t('tags.link')}</a>
      <a class="btn" href={href('beds', 'plant', id)}>{t('lineage.back_to', { code })}</a>
    </div>
  )
}

/** The gap that the address tells, as the place picker links to it. */
function gapAsked(bed: BedID): Place[] {
  const [line, number] = route.peek().slice(3).map(Number)
  return Number.isInteger(line) && Number.isInteger(number) && line !== undefined && number !== undefined && line > 0 && number > 0 ? [{ bed, line, number }] : []
}
