// The end of a rated walk: what it found, and the plants that nobody looked at.

import type { ComponentChildren } from 'preact'
import type { Bed, Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'
import { RatedLast } from './RatedLast'
import { RatedRows } from './RatedList'
import type { RatedLook } from './RatedWalk'

interface RatedEndProps<T extends string> {
  readonly bed: Bed
  readonly look: RatedLook<T>
  readonly order: readonly Plant[]
  readonly say: string
  readonly children?: ComponentChildren
}

export function RatedEnd<T extends string>({ bed, look, order, say, children }: RatedEndProps<T>) {
  const { session } = look
  const untouched = order.filter(({ id }) => !session.seen(id))
  const first = untouched[0]
  return (
    <>
      <PageHead title={`${bed.name}: ${look.title}`} back={href('row', 'walks', bed.id)}><SyncChip /></PageHead>
      <div class="page reading rated-end">
        <Say text={order.length === 0 ? t('rated.end.none') : say} />
        {order.length > 0 && children}
        {first && (
          <section>
            <p class="note warn">{t('rated.untouched', { n: untouched.length })}</p>
            <RatedRows look={look} order={untouched} at="" />
          </section>
        )}
        <RatedLast look={look} />
        <div class="act two">
          {first && <button type="button" class="btn main" onClick={() => session.goTo(first.id)}>{t('rated.end.go', { code: first.code })}</button>}
          <a class={first ? 'btn tall' : 'btn main'} href={href('row')}>{t('row.other_bed')}</a>
        </div>
      </div>
    </>
  )
}

/** Plants by name, each with its page. */
export function PlantLinks({ plants }: { readonly plants: readonly Plant[] }) {
  return <ul class="plant-links">{plants.map((plant) => <li key={plant.id}><a class="btn" href={href('beds', 'plant', plant.id)}>{plant.code}</a></li>)}</ul>
}
