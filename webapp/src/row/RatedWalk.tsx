// A rated walk on screen: the strip, the plant called out, what it is rated by, and the last action. What
// differs between the stand walk and the colour walk is handed in.

import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import type { Bed, Farm, Plant, ToldGrade } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { gradeFeedback, prepareFeedback } from '../ui/feedback'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href, route } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { useWakeLock } from '../ui/wake'
import { wide } from '../ui/wide'
import { useAlarm } from './alarm'
import { HeadStrip, type StripMark } from './HeadStrip'
import { PlantTools } from './PlantTools'
import './rated.css'
import { RatedLast } from './RatedLast'
import { RatedList, RatedRows } from './RatedList'
import { useRatedKeys } from './rated_keys'
import type { RatedSession } from './rated_session'

/** How one kind of walk shows itself. */
export interface RatedLook<T extends string> {
  readonly session: RatedSession<T>
  readonly title: string
  readonly mark: (plant: Plant) => StripMark
  /** What was found at a plant, in words; '' where nothing was. */
  readonly found: (plant: Plant) => string
  /** A rating in words. */
  readonly name: (what: string) => string
  readonly tone: (what: string) => ToldGrade
  /** The ratings in the order of the digits 1 to 9. */
  readonly digits: readonly T[]
  readonly rate: (plant: Plant, what: T) => void
  readonly keysHint: string
  /** What goes on without a rating, at a plant that has none. */
  readonly skip: string
}

interface RatedWalkProps<T extends string> {
  readonly bed: Bed
  readonly look: RatedLook<T>
  /** The plant's card and the ratings to choose from. */
  readonly plantView: (plant: Plant) => ComponentChildren
  readonly end: (order: readonly Plant[]) => ComponentChildren
  /** Told beside the last action. */
  readonly aside?: ComponentChildren
}

export function RatedWalk<T extends string>({ bed, look, plantView, end, aside }: RatedWalkProps<T>) {
  const { session } = look
  const farm = useNotebook().farm.value
  const position = session.position.value
  const here = position?.bed === bed.id && position.season === session.season()
  useEffect(() => session.enter(bed.id), [bed.id, session.season()])
  useRatedAnswers(look, farm)
  if (!position || !here) return null
  const order = session.order(bed.id)
  const title = `${bed.name}: ${look.title}`
  if (route.value[3] === 'plants') return <RatedList title={title} look={look} bed={bed} order={order} at={position.at} />
  const plant = order.find(({ id }) => id === position.at)
  if (!plant) return <>{end(order)}</>
  return <AtPlant bed={bed} look={look} order={order} plant={plant} title={title} aside={aside}>{plantView(plant)}</AtPlant>
}

interface AtPlantProps<T extends string> {
  readonly bed: Bed
  readonly look: RatedLook<T>
  readonly order: readonly Plant[]
  readonly plant: Plant
  readonly title: string
  readonly aside: ComponentChildren
  readonly children: ComponentChildren
}

function AtPlant<T extends string>({ bed, look, order, plant, title, aside, children }: AtPlantProps<T>) {
  const { session } = look
  const seen = session.seen(plant.id)
  const left = order.filter(({ id }) => !session.seen(id)).length
  useWakeLock()
  useRatedKeys(look, plant, order)
  return (
    <div class="walk rated">
      <PageHead title={title}>
        <SyncChip />
        <a class="btn quiet care" href={href('row', 'care')} aria-label={t('care.title')}><Icon name="care" /></a>
      </PageHead>
      <div class="walk-main">
        <HeadStrip
          order={order} marks={order.map(look.mark)} at={plant.id} onJump={(id) => session.goTo(id)}
          label={t('rated.strip', { seen: order.length - left, total: order.length })} left={t('row.left', { n: left })}
          list={href('row', session.rating.name, bed.id, 'plants')}
        />
        {children}
        <div class="rated-foot">
          {aside}
          <RatedLast look={look} />
          <div class="act">
            <PlantTools plant={plant} />
            <button type="button" class="btn main" onClick={() => session.next()}>{seen ? t('rated.next') : look.skip}</button>
          </div>
        </div>
        <p class="small keys-hint">{look.keysHint}</p>
      </div>
      {wide.value && (
        <aside class="walk-side" aria-label={t('row.list')}>
          <RatedRows look={look} order={order} at={plant.id} />
          <a class="btn tall" href={href('row', 'walks', bed.id)}>{t('rated.walks')}</a>
        </aside>
      )}
    </div>
  )
}

/** What the phone answers to a rating that was stored: a tone, a buzz, and words for a screen reader. */
function useRatedAnswers<T extends string>(look: RatedLook<T>, farm: Farm): void {
  const { session } = look
  useEffect(prepareFeedback, [])
  useEffect(() => {
    session.onStored = ({ kind, plant, what }, takenBack) => {
      const words = t('rated.did', { code: farm.plants.get(plant)?.code ?? '', what: kind === 'flag' ? t('flag.colour_off') : look.name(what) })
      announce(takenBack ? t('row.taken_back', { action: words }) : words)
      if (!takenBack) gradeFeedback(kind === 'flag' ? '' : look.tone(what))
    }
    return () => { session.onStored = () => {} }
  })
  useAlarm(session)
}
