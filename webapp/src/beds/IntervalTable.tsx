// Estimates one below the other: each a number with its interval, and beside it the interval drawn along
// a line that all share. The table holds what the drawing shows.

import type { ComponentChildren } from 'preact'
import { count, t } from '../messages/messages'
import { along, type Line } from './ages_scale'
import type { Interval } from './ages_report'
import { rangeText } from './ages_sentence'
import { TableBox } from './TableBox'
import { Cell, Head } from './TableCells'

export interface IntervalRow {
  readonly key: string
  readonly name: ComponentChildren
  /** undefined where it is not known. */
  readonly interval: Interval | undefined
  /** A wider range behind the interval. */
  readonly outer?: { readonly lo: number; readonly hi: number }
  /** What stands in the columns after the interval. */
  readonly more?: readonly ComponentChildren[]
}

export interface IntervalGroup {
  readonly name?: string
  readonly rows: readonly IntervalRow[]
}

interface IntervalTableProps {
  readonly caption: string
  readonly nameHead: string
  readonly valueHead: string
  readonly moreHeads?: readonly string[]
  /** How many of those columns, the last, go to a second line of their row on a phone. */
  readonly under?: number
  readonly groups: readonly IntervalGroup[]
  readonly line: Line
  /** A value that is marked on the line, such as the middle plant's. */
  readonly mark?: number
  /** How a number is shown. */
  readonly shown: (value: number) => number
}

export function IntervalTable({ caption, nameHead, valueHead, moreHeads = [], under = 0, groups, line, mark, shown }: IntervalTableProps) {
  const beside = moreHeads.length - under
  const headUnder = (column: number) => (column < beside ? undefined : moreHeads[column])
  return (
    <TableBox caption={caption} beside={under > 0 ? 2 + beside : undefined}>
      <thead role="rowgroup">
        <tr role="row">
          <Head>{nameHead}</Head>
          <Head line><span class="unseen">{t('ages.picture')}</span></Head>
          <Head>{valueHead}</Head>
          {moreHeads.map((head, j) => <Head key={head} under={j >= beside}>{head}</Head>)}
        </tr>
      </thead>
      {groups.map((group, i) => (
        <tbody key={group.name ?? i} role="rowgroup">
          {group.name !== undefined && <tr role="row"><th scope="rowgroup" role="rowheader" colSpan={3 + moreHeads.length}>{group.name}</th></tr>}
          {group.rows.map((row) => (
            <tr key={row.key} role="row">
              <Cell>{row.name}</Cell>
              <Cell line><IntervalLine row={row} line={line} mark={mark} /></Cell>
              <Cell><Value interval={row.interval} shown={shown} /></Cell>
              {row.more?.map((cell, j) => <Cell key={j} under={headUnder(j)}>{cell}</Cell>)}
            </tr>
          ))}
        </tbody>
      ))}
      <tbody aria-hidden="true">
        <tr class="axis-row">
          <td />
          <td class="line-cell"><AxisText line={line} shown={shown} /></td>
          <td colSpan={1 + moreHeads.length} />
        </tr>
      </tbody>
    </TableBox>
  )
}

function Value({ interval, shown }: { readonly interval: Interval | undefined; readonly shown: (value: number) => number }) {
  if (!interval) return <span class="small">{t('ages.untold')}</span>
  return <Estimate value={shown(interval.mean)} lo={shown(interval.lo)} hi={shown(interval.hi)} />
}

/** A number and the ends of its interval. */
export function Estimate({ value, lo, hi }: { readonly value: number; readonly lo: number; readonly hi: number }) {
  return <><b>{count(value)}</b> <span class="small">{rangeText(lo, hi)}</span></>
}

interface IntervalLineProps {
  readonly row: IntervalRow
  readonly line: Line
  readonly mark: number | undefined
}

function IntervalLine({ row: { interval, outer }, line, mark }: IntervalLineProps) {
  const x = (value: number) => `${along(line, value)}%`
  return (
    <svg class="interval-line" aria-hidden="true">
      <line class="axis" x1="0" x2="100%" y1="14" y2="14" />
      {mark !== undefined && <line class="reference" x1={x(mark)} x2={x(mark)} y1="0" y2="28" />}
      {outer && <rect class="spread" x={x(outer.lo)} width={`${along(line, outer.hi) - along(line, outer.lo)}%`} y="8" height="12" />}
      {interval && <line class="interval" x1={x(interval.lo)} x2={x(interval.hi)} y1="14" y2="14" />}
      {interval && <circle class="mean" cx={x(interval.mean)} cy="14" r="5.5" />}
    </svg>
  )
}

function AxisText({ line, shown }: { readonly line: Line; readonly shown: (value: number) => number }) {
  const ends = [line.from, line.to]
  return (
    <svg class="interval-line text" aria-hidden="true">
      {ends.map((tick, i) => <text key={tick} x={i === 0 ? '0' : '100%'} y="14" text-anchor={i === 0 ? 'start' : 'end'}>{shown(tick)}</text>)}
    </svg>
  )
}
