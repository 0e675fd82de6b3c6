// The way through a day in the shed: orders, packing, cooler, papers, what is left to sell.

import { useMemo } from 'preact/hooks'
import { count, dayName, t } from '../messages/messages'
import { Icon, type IconName } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { type ShedDay, shedDay } from './shed_day'

const steps: readonly { readonly page: 'orders' | 'packing' | 'cooler' | 'papers' | 'availability'; readonly icon: IconName }[] = [
  { page: 'orders', icon: 'list' }, { page: 'packing', icon: 'check' }, { page: 'cooler', icon: 'cooler' },
  { page: 'papers', icon: 'print' }, { page: 'availability', icon: 'share' },
]

export function ShedDaySteps() {
  const farm = useNotebook().farm.value
  const { sales, lots } = farm
  const day = useMemo(() => shedDay(farm, today.value), [sales, lots, today.value])
  return (
    <nav class="day-steps" aria-label={t('shed_day.title')}>
      {steps.map(({ page, icon }) => (
        <a key={page} class="day-step" href={href('shed', page)}>
          <Icon name={icon} />
          <span><b>{t(`shed_day.${page}`)}</b><span class="small">{said(page, day)}</span></span>
        </a>
      ))}
    </nav>
  )
}

function said(page: (typeof steps)[number]['page'], { next, stems, lastDay }: ShedDay): string {
  switch (page) {
    case 'orders':
      return next ? t('shed_day.orders.next', { n: next.deliveries, day: dayName(next.day, today.value) }) : t('shed_day.orders.none')
    case 'packing':
      return next ? t('shed_day.packing.next', { n: next.packed, all: count(next.bunches) }) : t('shed_day.packing.none')
    case 'cooler':
      return lastDay > 0 ? t('shed_day.cooler.last', { n: stems, last: count(lastDay) }) : t('shed_day.cooler.stems', { n: stems })
    case 'papers':
      return t('shed_day.papers.what')
    case 'availability':
      return t('shed_day.availability.what')
  }
}
