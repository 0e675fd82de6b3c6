// What was written off in the last days, each open to be taken back.

import { addDays } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import type { Shrink } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { ShrinkRow } from './ShrinkRow'

const daysBack = 14

export function WrittenOffLately() {
  const farm = useNotebook().farm.value
  const shrink = lately(farm, today.value)
  return (
    <section>
      <h2>{t('lately.title', { n: daysBack })}</h2>
      {shrink.length === 0 && <p class="small">{t('lately.none')}</p>}
      <ul class="rows">{shrink.map((one) => <ShrinkRow key={one.id} shrink={one} />)}</ul>
      <p><a href={href('shed', 'claims')}>{t('lately.more')}</a></p>
    </section>
  )
}

/** The latest first, found day by day. */
function lately({ sales }: Farm, day: Day): Shrink[] {
  const found: Shrink[] = []
  for (let back = 0; back < daysBack; back++) {
    const ids = [...sales.shrinkOn.get(addDays(day, -back)) ?? []].sort()
    found.push(...ids.flatMap((id) => sales.shrink.get(id) ?? []))
  }
  return found
}
