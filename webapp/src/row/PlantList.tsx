// The walk as a list: jump to any plant, see what is left, choose whom to call out, close the bed.

import type { Bed, PlantID } from '../crop/nouns'
import { standingIn } from '../crop/standing'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { Jump } from './Jump'
import type { Session } from './session'
import type { Whom } from './walk'

interface PlantListProps {
  readonly session: Session
  readonly bed: Bed
  readonly at: PlantID | ''
}

export function PlantList({ session, bed, at }: PlantListProps) {
  return (
    <>
      <PageHead title={bed.name} back={href('row')}>
        <a class="btn quiet care" href={href('row', 'care')} aria-label={t('care.title')}><Icon name="care" /></a>
      </PageHead>
      <div class="page reading walk-list">
        <WholeWalk session={session} bed={bed} at={at} />
      </div>
    </>
  )
}

/** Everything about the walk that is not the plant called out; on a wide screen it stands beside that. */
export function WholeWalk({ session, bed, at }: PlantListProps) {
  const untouched = session.untouched(bed.id).length
  const end = () => {
    session.goTo('')
    go('row')
  }
  const leave = () => {
    session.close()
    go('row')
  }
  return (
    <>
      <WhomToCallOut session={session} bed={bed} />
      <Jump session={session} bed={bed} order={session.order(bed.id)} at={at} />
      <div class="act half">
        <button type="button" class="btn tall" onClick={leave}>{t('row.other_bed')}</button>
        <button type="button" class="btn tall" onClick={end}>{untouched > 0 ? t('close.go', { n: untouched }) : t('close.done')}</button>
      </div>
      <WhatIs of="to_order" />
    </>
  )
}

function WhomToCallOut({ session, bed }: { readonly session: Session; readonly bed: Bed }) {
  const standing = standingIn(useNotebook().farm.value, bed.id, today.value)
  const counted = standing.filter((plant) => session.isCounted(plant)).length
  if (counted === 0) return <p class="small">{t('walk.whom.none')}</p>
  const { whom } = session.ways.of(bed.id)
  const choices: readonly [Whom, string][] = [
    ['counted', t('walk.whom.counted', { n: counted })], ['all', t('walk.whom.all', { n: standing.length })],
  ]
  return (
    <fieldset class="field">
      <legend>{t('walk.whom')}</legend>
      <div class="choices">
        {choices.map(([one, text]) => (
          <button key={one} type="button" class="btn" aria-pressed={one === whom} onClick={() => session.setWay(bed.id, { whom: one })}>{text}</button>
        ))}
      </div>
      {whom === 'all' && <p class="small">{t('walk.whom.note')}</p>}
    </fieldset>
  )
}
