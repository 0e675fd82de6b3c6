// Which lines are still due, in words.

import type { Open } from '../crop/open_lines'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { lineText } from '../ui/sale_words'
import { today } from '../ui/today'
import { standingLines, standingText } from './standing_words'

export function OpenList({ open }: { readonly open: Pick<Open, 'dues' | 'standings'> }) {
  const farm = useNotebook().farm.value
  return (
    <ul class="rows">
      {open.dues.map((due) => (
        <li key={due.order}>
          <a class="line plain" href={href('shed', 'orders', 'order', due.order)}>
            <span><b>{dayName(due.day, today.value)}</b>{due.lines.map((line) => <span key={line.id} class="small block">{lineText(farm, line)}</span>)}</span>
          </a>
        </li>
      ))}
      {open.standings.map((one) => (
        <li key={one.id}>
          <a class="line plain" href={href('shed', 'orders', 'standing', one.id)}>
            <span><b>{t('orders.standing.each', { when: standingText(one, today.value) })}</b>
              {standingLines(farm.sales, one.id).map((line) => <span key={line.id} class="small block">{lineText(farm, line)}</span>)}</span>
          </a>
        </li>
      ))}
    </ul>
  )
}
