// Ranges one below the other along a line that all share.

import type { ComponentChildren } from 'preact'
import type { Range } from '../forecast/forecast'
import { rangeOfMost, roughly } from '../forecast/forecast_words'
import { count, t } from '../messages/messages'

export interface RangeRow {
  readonly key: string
  readonly name: ComponentChildren
  readonly stems: Range
}

interface RangeTableProps {
  readonly head: string
  readonly rows: readonly RangeRow[]
}

export function RangeTable({ head, rows }: RangeTableProps) {
  const most = Math.max(1, ...rows.map(({ stems }) => stems.q95))
  return (
    <table class="range-table">
      <thead>
        <tr><th scope="col">{head}</th><th scope="col"><span class="unseen">{t('ahead.picture.line')}</span></th><th scope="col">{t('stems.head')}</th></tr>
      </thead>
      <tbody>
        {rows.map(({ key, name, stems }) => (
          <tr key={key}>
            <th scope="row">{name}</th>
            <td class="range-cell"><RangeLine stems={stems} most={most} /></td>
            <td><b>{count(roughly(stems.q50))}</b> <span class="small">{rangeOfMost(stems)}</span></td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function RangeLine({ stems, most }: { readonly stems: Range; readonly most: number }) {
  const x = (value: number) => `${(value / most) * 98 + 1}%`
  const width = (lo: number, hi: number) => `${Math.max(0.6, ((hi - lo) / most) * 98)}%`
  return (
    <svg width="100%" height="22" aria-hidden="true">
      <line class="axis" x1="0" x2="100%" y1="11" y2="11" />
      <rect class="range-most" x={x(stems.q05)} width={width(stems.q05, stems.q95)} y="4" height="14" rx="3" />
      <rect class="range-half" x={x(stems.q25)} width={width(stems.q25, stems.q75)} y="4" height="14" />
      <line class="median" x1={x(stems.q50)} x2={x(stems.q50)} y1="1" y2="21" />
    </svg>
  )
}
