// A colour session as a list: who was photographed, who waits, and a jump to any plant by its code or place.

import { useState } from 'preact/hooks'
import type { Bed, Farm, Plant, PlantID } from '../crop/nouns'
import { newestReading } from '../measuring/plant_readings'
import { uncertaintyText } from '../measuring/words'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { placeName, swatchOf } from '../ui/words'
import { isDone } from './colour_order'
import type { ColourSession, SessionState } from './colour_session'
import { findPlants } from './find'

interface SessionListProps {
  readonly bed: Bed
  readonly session: ColourSession
  readonly state: SessionState
}

/** More are of no help to a finger: typing on is quicker. */
const mostFound = 8

export function SessionList(props: SessionListProps) {
  const { bed } = props
  const farm = useNotebook().farm.value
  const [typed, setTyped] = useState('')
  const toCard = () => {
    props.session.toCard(bed.id)
    go('row', 'measure', bed.id)
  }
  const found = typed.trim() === '' ? undefined : findPlants(farm, bed.id, today.value, typed).slice(0, mostFound)
  return (
    <>
      <PageHead title={t('session.title', { bed: bed.name })} back={href('row', 'measure', bed.id)} />
      <div class="page reading">
        <form class="jump" role="search" onSubmit={(event) => event.preventDefault()}>
          <label class="field">
            <span>{t('jump.label')}</span>
            <input
              type="text" value={typed} placeholder={t('jump.example')} autocomplete="off" autocapitalize="characters"
              spellcheck={false} onInput={(event) => setTyped(event.currentTarget.value)}
            />
          </label>
          <a class="btn" href={href('row', 'measure', bed.id, 'scan')} aria-label={t('scan')}><Icon name="scan" />{t('scan.short')}</a>
        </form>
        {found?.length === 0 && <p class="note" role="status">{t('jump.none')}</p>}
        {!found && <button type="button" class="btn" onClick={toCard}>{t('session.card.again')}</button>}
        {found ? <Rows {...props} farm={farm} plants={found} /> : <SessionRows {...props} />}
      </div>
    </>
  )
}

/** The reference plants and those planned, as they are led to. */
export function SessionRows(props: SessionListProps) {
  const farm = useNotebook().farm.value
  const plantsOf = (ids: readonly PlantID[]) => ids.flatMap((id) => farm.plants.get(id) ?? [])
  const { references, plants } = props.state
  return (
    <>
      {references.length > 0 && <h2>{t('session.references', { n: references.length })}</h2>}
      <Rows {...props} farm={farm} plants={plantsOf(references)} />
      {references.length > 0 && <h2>{t('bed.plants')}</h2>}
      <Rows {...props} farm={farm} plants={plantsOf(plants)} />
    </>
  )
}

interface RowsProps extends SessionListProps {
  readonly farm: Farm
  readonly plants: readonly Plant[]
}

function Rows({ bed, session, state, farm, plants }: RowsProps) {
  const jump = (plant: PlantID) => {
    session.goTo(bed.id, plant)
    go('row', 'measure', bed.id)
  }
  return (
    <ol class="rows">
      {plants.map((plant) => (
        <li key={plant.id}>
          <button type="button" class="line" aria-current={plant.id === state.at ? 'step' : undefined} onClick={() => jump(plant.id)}>
            <Head swatch={swatchOf(farm, plant)} size={36} />
            <span><b>{plant.code}</b><span class="small block">{placeName(plant)}</span></span>
            <Done farm={farm} plant={plant} />
          </button>
        </li>
      ))}
    </ol>
  )
}

function Done({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const reading = isDone(farm, plant.id, today.value) ? newestReading(farm, plant.id) : undefined
  if (!reading) return <span class="small">{t('session.waits')}</span>
  return <span class="small"><Icon name="check" /> {uncertaintyText(reading.lab, reading.se)}</span>
}
