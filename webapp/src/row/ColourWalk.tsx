// The colour walk: while a bed blooms, the colour class by eye, one tap a plant.

import { useMemo } from 'preact/hooks'
import { standingFlag } from '../crop/flags'
import type { Bed, ColourID, Farm, Plant } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { swatchOf } from '../ui/words'
import { byUse, colourRating, drifted, earlierColour, inOrder } from './colour_walk'
import { NewColour } from './NewColour'
import { RatedCard } from './RatedCard'
import { PlantLinks, RatedEnd } from './RatedEnd'
import { type RatedLook, RatedWalk } from './RatedWalk'
import { RatedSession } from './rated_session'
import { tally } from './rated_walk'

export function ColourWalk({ bed }: { readonly bed: Bed }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const session = RatedSession.of(notebook, colourRating)
  const may = useRights()
  // Where a class stands must not change under the finger while more and more plants have one.
  const began = useMemo(() => byUse(farm, session.order(bed.id)).map(({ id }) => id), [bed.id])
  const classes = inOrder(farm, began)
  const look = lookOf(session, farm, classes.map(({ id }) => id))
  return (
    <RatedWalk
      bed={bed} look={look}
      plantView={(plant) => (
        <>
          <RatedCard farm={farm} plant={plant} told=""><Before farm={farm} plant={plant} look={look} /></RatedCard>
          {classes.length === 0 && !may.manage && <p class="note">{t('colour.none')}</p>}
          <div class="classes" role="group" aria-label={t('colour.choose')}>
            {classes.map(({ id, name, swatch }) => (
              <button key={id} type="button" class="btn class" aria-pressed={plant.colours.get(session.season())?.what === id} onClick={() => look.rate(plant, id)}>
                <Head swatch={swatch} size={44} /><span>{name}</span>
              </button>
            ))}
          </div>
          {may.manage && <NewColour farm={farm} />}
        </>
      )}
      end={(order) => <End bed={bed} farm={farm} look={look} order={order} />}
      aside={<Drift farm={farm} session={session} />}
    />
  )
}

function lookOf(session: RatedSession<ColourID>, farm: Farm, digits: readonly ColourID[]): RatedLook<ColourID> {
  const nameOf = (what: string) => farm.colours.get(what as ColourID)?.name ?? t('colour.not_here')
  const foundAt = (plant: Plant) => plant.colours.get(session.season())?.what
  return {
    session, title: t('walks.colour'), digits, name: nameOf, keysHint: t('colour.keys'), skip: t('colour.not_yet'), tone: () => '',
    found: (plant) => { const found = foundAt(plant); return found === undefined ? '' : nameOf(found) },
    mark: (plant) => (foundAt(plant) === undefined ? { kind: 'ring' } : { kind: 'head', swatch: swatchOf(farm, plant) }),
    rate: (plant, what) => void session.rate(plant.id, what, earlierColour(plant, session.season())?.colour ?? ''),
  }
}

/** What the plant was before this season, and what it is now where that was told. */
function Before({ farm, plant, look }: { readonly farm: Farm; readonly plant: Plant; readonly look: RatedLook<ColourID> }) {
  const before = earlierColour(plant, look.session.season())
  const now = look.found(plant)
  const name = before && look.name(before.colour)
  return (
    <p class="small before">
      {before && name && <Head swatch={farm.colours.get(before.colour)?.swatch ?? ''} size={22} />}
      {before && name ? (before.season ? t('colour.before.in', { season: String(before.season), name }) : t('colour.before', { name })) : now === '' && t('colour.first')}
      {now !== '' && <b>{t('colour.now', { name: now })}</b>}
    </p>
  )
}

/** That the class just told is another than before, with the flag for it one tap away. */
function Drift({ farm, session }: { readonly farm: Farm; readonly session: RatedSession<ColourID> }) {
  const last = session.last()
  const plant = last && farm.plants.get(last.plant)
  if (!plant || last.kind !== 'rating' || last.earlier === '' || last.earlier === last.what || standingFlag(plant, 'colour_off')) return null
  const name = (id: string) => farm.colours.get(id as ColourID)?.name ?? t('colour.not_here')
  return (
    <div class="note warn undoable drift">
      <p>{t('colour.drift', { code: plant.code, before: name(last.earlier), now: name(last.what) })}</p>
      <button type="button" class="btn" onClick={() => void session.flag(plant.id, 'colour_off')}>{t('colour.drift.flag')}</button>
    </div>
  )
}

interface EndProps {
  readonly bed: Bed
  readonly farm: Farm
  readonly look: RatedLook<ColourID>
  readonly order: readonly Plant[]
}

function End({ bed, farm, look, order }: EndProps) {
  const season = look.session.season()
  const counts = [...tally(order, colourRating, season)].sort(([, a], [, b]) => b - a)
  const other = drifted(order, season)
  const seen = counts.reduce((sum, [, n]) => sum + n, 0)
  return (
    <RatedEnd bed={bed} look={look} order={order} say={t('colour.end', { n: seen, total: order.length })}>
      <ul class="rows">
        {counts.map(([id, n]) => (
          <li key={id}><div class="line"><Head swatch={farm.colours.get(id)?.swatch ?? ''} size={36} /><span>{look.name(id)}</span><span class="n">{count(n)}</span></div></li>
        ))}
      </ul>
      {other.length > 0 && <section><p>{t('colour.end.drift', { n: other.length })}</p><PlantLinks plants={other} /></section>}
    </RatedEnd>
  )
}
