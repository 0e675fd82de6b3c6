// What a plant gave: its stems by season, and where they stand among those of the others of its age.

import { useEffect, useMemo } from 'preact/hooks'
import type { Farm, Plant, PlantID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { count, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Marked, Say } from '../ui/Say'
import { today } from '../ui/today'
import { readAges, worthOf } from './ages'
import { inHundred, times } from './ages_sentence'
import { AgeStrip } from './AgeStrip'
import { HeadWidths } from './HeadWidths'
import { type Compared, comparedOf, fewestPeers, standingAmong, wholeSeasons } from './peers'
import { type PlantSeason, seasonsOfPlant } from './stems'
import { TableBox } from './TableBox'

export function PlantStems({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  // A season to come may be marked as counted already: it has given nothing yet.
  const now = seasonOf(farm.calendar, today.value)
  const seasons = seasonsOfPlant(farm, plant.id).filter(({ season }) => season <= now)
  const all = wholeSeasons(farm, today.value)
  const compared = useMemo(() => comparedOf(all, plant.id), [all, plant.id])
  const enough = compared.filter(({ others }) => others.length >= fewestPeers)
  return (
    <section>
      <h2>{t('plant.stems')}</h2>
      {seasons.length === 0 ? <p class="small">{t('plant.no_stems')}</p> : <Among compared={compared[0]} />}
      <Worth plant={plant.id} />
      {enough.length > 0 && <AgeStrips compared={enough} />}
      {seasons.length > 0 && <Seasons seasons={seasons} />}
      <HeadWidths farm={farm} plant={plant} />
    </section>
  )
}

/** Its newest whole season in a sentence, or why it is not compared. */
function Among({ compared }: { readonly compared: Compared | undefined }) {
  if (!compared) return <p class="small">{t('peers.not_whole')}</p>
  const { stems: n, age, season, others } = compared
  const standing = standingAmong(n, others.map((one) => one.stems))
  const told = { n, age: t(`peers.age.${age <= 3 ? (age as 1 | 2 | 3) : 'later'}`, { age }), season: String(season) }
  if (standing.kind === 'few') {
    return <><Say text={t('peers.alone', told)} /><p class="small">{t('peers.few', { n: standing.n })}</p></>
  }
  return <Say text={'ofTen' in standing ? t(`peers.${standing.kind}`, { ...told, often: standing.ofTen }) : t(`peers.${standing.kind}`, told)} />
}

function AgeStrips({ compared }: { readonly compared: readonly Compared[] }) {
  const most = compared.flatMap(({ stems, others }) => [stems, ...others.map((one) => one.stems)]).reduce((a, b) => Math.max(a, b), 0)
  return (
    <figure class="age-strips">
      {compared.map((one) => <AgeStrip key={one.season} compared={one} most={most} />)}
      <figcaption class="small">{t('peers.legend')}</figcaption>
    </figure>
  )
}

/** What the last sync says of it beside the others; nothing where it was not counted. */
function Worth({ plant }: { readonly plant: PlantID }) {
  const notebook = useNotebook()
  useEffect(() => readAges(notebook), [])
  const worth = worthOf(plant)
  if (!worth) return null
  const { times: factor, best_tenth: best, extra } = worth
  return (
    <div>
      <p><Marked text={t('plant.worth', { times: times(factor.mean), lo: count(times(factor.lo)), hi: count(times(factor.hi)), hundred: inHundred(best) })} /></p>
      {extra && <p class="small">{t('plant.worth.extra', { n: inHundred(extra.mean), lo: inHundred(extra.lo), hi: inHundred(extra.hi) })}</p>}
    </div>
  )
}

function Seasons({ seasons }: { readonly seasons: readonly PlantSeason[] }) {
  return (
    <TableBox caption={t('plant.seasons')}>
      <thead><tr><th scope="col">{t('plant.season')}</th><th scope="col">{t('ages.age')}</th><th scope="col">{t('stems.head')}</th><th scope="col">{t('counted')}</th></tr></thead>
      <tbody>
        {seasons.map((one) => (
          <tr key={one.season}>
            <td>{String(one.season)}</td><td>{count(one.age)}</td><td>{count(one.stems)}</td><td>{one.counted ? t('yes') : t('no')}</td>
          </tr>
        ))}
      </tbody>
    </TableBox>
  )
}
