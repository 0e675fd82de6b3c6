// Of when it is what Ages and the plan show, and whether the shed is being asked for newer.

import { dayName, t } from '../messages/messages'
import { today } from '../ui/today'
import { answer, fetching } from './ages'

/** The day stays while the shed is asked: a fit takes seconds, and what is on the screen is read meanwhile. */
export function whence(): string {
  if (!answer.value) return ''
  const day = dayName(answer.value.asof, today.value)
  return fetching.value === 'yes' ? t('ages.asof.asking', { day }) : t('ages.asof', { day })
}
