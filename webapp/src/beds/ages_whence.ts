// Of when it is what Ages and the plan show, and whether the shed is being asked for newer.

import { dayName, t } from '../messages/messages'
import { today } from '../ui/today'
import { answer, fetching } from './ages'

/** The day stays while the shed is asked: a fit takes seconds, and what is on the screen is read meanwhile. */
export function whence(): string {
  const asking = fetching.value === 'yes'
  if (!answer.value) return asking ? t('ages.fetching') : ''
  const day = dayName(answer.value.asof, today.value)
  return asking ? t('ages.asof.asking', { day }) : t('ages.asof', { day })
}
