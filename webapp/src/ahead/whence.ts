// Of when the forecast is, and whether the shed is being asked for a newer one.

import { forecast, type ForecastAnswer } from '../forecast/forecast'
import { dayName, t } from '../messages/messages'
import { today } from '../ui/today'

export function whence(answer: ForecastAnswer | undefined): string {
  if (!answer) return ''
  const day = dayName(answer.asof, today.value)
  return t(forecast.fetching.value === 'yes' ? 'ahead.asof.asking' : 'ahead.asof', { day })
}
