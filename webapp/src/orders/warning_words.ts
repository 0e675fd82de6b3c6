// Warnings and problems of orders in sentences.

import type { Day, Farm } from '../crop/nouns'
import { channelOf } from '../crop/price_of'
import { type BuyerID, type Cents, mostBunches, mostBunchStems } from '../crop/sale_nouns'
import { dayName, listed, momentName, t } from '../messages/messages'
import { amount } from '../ui/money'
import { colourCalled, weekdaysText } from '../ui/sale_words'
import type { Problem } from './order_form'
import type { LineWarning, OrderWarning } from './warnings'

export function orderWarningText(farm: Farm, buyer: BuyerID, day: Day, warning: OrderWarning, today: Day): string {
  const channel = channelOf(farm.sales, buyer)
  const name = channel?.name ?? t('orders.channel.none')
  switch (warning.kind) {
    case 'late': return t('orders.warn.late', { channel: name, closed: momentName(warning.closed) })
    case 'weekday': return t('orders.warn.weekday', { channel: name, days: weekdaysText(channel?.days ?? ('' as never)), day: dayName(day, today) })
    case 'past': return t('orders.warn.past', { day: dayName(day, today) })
    case 'gone': return t('orders.warn.gone')
    case 'no_channel': return t('orders.warn.no_channel')
  }
}

export function lineWarningText(farm: Farm, warning: LineWarning): string {
  const money = (cents: number) => amount(cents as Cents, farm.sales.terms.currency)
  switch (warning.kind) {
    case 'unpriced': return t('orders.warn.unpriced')
    case 'several': return t('orders.warn.several', { price: money(warning.cents) })
    case 'without': return t('orders.warn.without', { colours: listed(warning.colours.map((id) => colourCalled(farm, id))) })
    case 'floor': return t('orders.warn.floor', {
      price: money(warning.price), stems: warning.stems, floor: money(warning.floor), grade: t(`grade.${warning.grade}`), least: money(warning.floor * warning.stems),
    })
  }
}

export function problemText(problem: Problem): string {
  if (!('line' in problem)) return t(`orders.problem.${problem.of}`)
  if (problem.of === 'packed' || problem.of === 'packed_stems') return t('orders.problem.in_line', { line: problem.line, what: t(`orders.problem.${problem.of}`, { n: problem.packed }) })
  const most = problem.of === 'bunches' ? mostBunches : mostBunchStems
  return t('orders.problem.in_line', { line: problem.line, what: t(`orders.problem.${problem.of}`, { most }) })
}
