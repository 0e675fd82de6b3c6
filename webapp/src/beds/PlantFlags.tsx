// The flags of a plant as they are read: those that stand, and those that were cleared, by whom and when.

import { dayOf } from '../crop/day'
import type { Farm, Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { flaggedBy } from '../ui/FlagChooser'
import { Icon } from '../ui/Icon'

interface FlagsProps {
  readonly farm: Farm
  readonly plant: Plant
}

export function StandingFlags({ farm, plant }: FlagsProps) {
  if (plant.flags.length === 0) return <p class="small">{t('flags.none.plant')}</p>
  return (
    <ul class="rows">
      {plant.flags.map((flag) => (
        <li key={`${flag.kind} ${flag.day} ${flag.by}`} class="told"><b><Icon name="flagged" /> {t(`flag.${flag.kind}`)}</b><span class="small">{flaggedBy(farm, flag)}</span></li>
      ))}
    </ul>
  )
}

export function ClearedFlags({ farm, plant }: FlagsProps) {
  if (plant.flagsCleared.length === 0) return null
  return (
    <details>
      <summary>{t('flags.history', { n: plant.flagsCleared.length })}</summary>
      <ul class="rows">
        {plant.flagsCleared.map((flag) => (
          <li key={`${flag.kind} ${flag.day} ${flag.by}`} class="told">
            <b>{t(`flag.${flag.kind}`)}</b>
            <span class="small">
              {t('flags.history.line', { raised: flaggedBy(farm, flag), cleared: flaggedBy(farm, { day: dayOf(new Date(flag.clearedAt)), by: flag.clearedBy }) })}
            </span>
          </li>
        ))}
      </ul>
    </details>
  )
}
