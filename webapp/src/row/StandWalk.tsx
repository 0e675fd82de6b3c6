// The spring stand walk: alive, weak or gone, one tap a plant.

import type { Bed, Farm, Plant, Stand } from '../crop/nouns'
import { t } from '../messages/messages'
import { HeadShape } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { colourName, swatchOf } from '../ui/words'
import type { StripMark } from './HeadStrip'
import { RatedCard } from './RatedCard'
import { PlantLinks, RatedEnd } from './RatedEnd'
import { type RatedLook, RatedWalk } from './RatedWalk'
import { RatedSession } from './rated_session'
import { tally } from './rated_walk'
import { standRating, stands } from './stand_walk'

export function StandWalk({ bed }: { readonly bed: Bed }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const session = RatedSession.of(notebook, standRating)
  const look = lookOf(session, farm)
  const foundAt = (plant: Plant) => standRating.found(plant, session.season())?.what
  return (
    <RatedWalk
      bed={bed} look={look}
      plantView={(plant) => (
        <>
          <RatedCard farm={farm} plant={plant} told={colourName(farm, plant)} />
          <div class="stands" role="group" aria-label={t('stand.choose')}>
            {stands.map((stand) => (
              <button key={stand} type="button" class="btn stand" aria-pressed={foundAt(plant) === stand} onClick={() => look.rate(plant, stand)}>
                <StandMark stand={stand} swatch={swatchOf(farm, plant)} />
                <span>{t(`stand.${stand}`)}{stand === 'gone' && <span class="small block">{t('stand.gone.what')}</span>}</span>
              </button>
            ))}
          </div>
        </>
      )}
      end={(order) => <End bed={bed} look={look} order={order} />}
    />
  )
}

function lookOf(session: RatedSession<Stand>, farm: Farm): RatedLook<Stand> {
  const nameOf = (what: string) => t(`stand.${what as Stand}`)
  const foundAt = (plant: Plant) => standRating.found(plant, session.season())?.what
  return {
    session, title: t('walks.stand'), digits: stands, name: nameOf, keysHint: t('stand.keys'), skip: t('rated.skip'),
    // The tones of the grades: the higher, the better it stands.
    tone: (what) => (what === 'alive' ? 'extra' : what === 'weak' ? 'second' : 'out'),
    found: (plant) => { const found = foundAt(plant); return found === undefined ? '' : nameOf(found) },
    mark: (plant) => markOf(foundAt(plant), swatchOf(farm, plant)),
    rate: (plant, what) => void session.rate(plant.id, what),
  }
}

function markOf(found: Stand | undefined, swatch: string): StripMark {
  if (found === undefined) return { kind: 'ring' }
  return found === 'gone' ? { kind: 'cross' } : { kind: found === 'alive' ? 'head' : 'small', swatch }
}

/** A full head, a small one, or a cross: the same as on the strip. */
function StandMark({ stand, swatch }: { readonly stand: Stand; readonly swatch: string }) {
  return (
    <svg class="stand-mark" width="56" height="56" viewBox="0 0 56 56" aria-hidden="true">
      {stand === 'gone' ? <path class="cross" d="M16 16l24 24M40 16l-24 24" /> : <HeadShape swatch={swatch} x={28} y={28} r={stand === 'alive' ? 26 : 12} />}
    </svg>
  )
}

function End({ bed, look, order }: { readonly bed: Bed; readonly look: RatedLook<Stand>; readonly order: readonly Plant[] }) {
  const season = look.session.season()
  const counts = tally(order, standRating, season)
  const n = (stand: Stand) => counts.get(stand) ?? 0
  const all = n('alive') + n('weak') + n('gone')
  const found = (stand: Stand) => order.filter((plant) => standRating.found(plant, season)?.what === stand)
  return (
    <RatedEnd bed={bed} look={look} order={order} say={t('stand.end', { alive: n('alive'), weak: n('weak'), gone: n('gone'), n: all })}>
      {n('weak') > 0 && <section><p>{t('stand.end.weak', { n: n('weak') })}</p><PlantLinks plants={found('weak')} /></section>}
      {n('gone') > 0 && <section><p>{t('stand.end.gone', { n: n('gone') })}</p><PlantLinks plants={found('gone')} /></section>}
      {all > 0 && n('alive') === all && <p>{t('stand.end.alive')}</p>}
      {n('alive') < all && <p class="small">{t('stand.end.practice')}</p>}
    </RatedEnd>
  )
}
