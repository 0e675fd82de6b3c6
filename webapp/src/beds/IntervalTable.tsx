// Estimates one below the other: each a number with its interval, and beside it the interval drawn along
// a line that all share. The table holds what the drawing shows.

import type { ComponentChildren } from 'preact'
import { count, t } from '../messages/messages'
import { along, type Line } from './ages_scale'
import type { Interval } from './ages_report'
import { rangeText } from './ages_sentence'
import { TableBox } from './TableBox'

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
  readonly groups: readonly IntervalGroup[]
  readonly line: Line
  /** A value that is marked on the line, such as the middle plant's. */
  readonly mark?: number
  /** How a number is shown. */
  readonly shown: (value: number) => number
}

export function IntervalTable({ caption, nameHead, valueHead, moreHeads = [], groups, line, mark, shown }: IntervalTableProps) {
  return (
    <TableBox caption={caption}>
      <thead>
        <tr>
          <th scope="col">{nameHead}</th>
          <th scope="col" class="line-cell"><span class="hidden-text">{t('ages.picture')}</span></th>
          <th scope="col">{valueHead}</th>
          {moreHeads.map((head) => <th scope="col" key={head}>{head}</th>)}
        </tr>
      </thead>
      {groups.map((group, i) => (
        <tbody key={group.name ?? i}>
          {group.name !== undefined && <tr><th scope="rowgroup" colSpan={3 + moreHeads.length}>{group.name}</th></tr>}
          {group.rows.map((row) => (
            <tr key={row.key}>
              <td>{row.name}</td>
              <td class="line-cell"><IntervalLine row={row} line={line} mark={mark} /></td>
              <td><Value interval={row.interval} shown={shown} /></td>
              {row.more?.map((cell, j) => <td key={j}>{cell}</td>)}
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
      {outer && <line class="outer" x1={x(outer.lo)} x2={x(outer.hi)} y1="14" y2="14" />}
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
