// What is promised in a week: to whom, for when, and how often as many stems come.

import type { LineNeed } from '../crop/line_needs'
import { dayName, t } from '../messages/messages'
import { buyerWritten, lineWritten } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { Marked } from '../ui/Say'
import { today } from '../ui/today'

interface WeekPromisesProps {
  readonly due: readonly LineNeed[]
  readonly stems: number
  /** In a hundred. */
  readonly chance: number
}

export function WeekPromises({ due, stems, chance }: WeekPromisesProps) {
  const farm = useNotebook().farm.value
  return (
    <details class="ahead-numbers">
      <summary><Marked text={t('ahead.promised.say', { n: stems, chance: String(chance) })} /></summary>
      <ul class="rows">
        {due.map(({ order, line, buyer, on }) => (
          <li key={line}>
            <a class="line plain" href={href('shed', 'orders', 'order', order)}>
              <span><b>{buyerWritten(farm, buyer)}</b><span class="small block">{lineWritten(farm, line)}</span></span>
              <span class="small">{dayName(on, today.value)}</span>
            </a>
          </li>
        ))}
      </ul>
      <p class="small">{t('ahead.promised.how')}</p>
    </details>
  )
}
