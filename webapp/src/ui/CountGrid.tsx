// Grades down, lengths across; one tap one stem or one bunch. Used in the row and on the bench.
//
// Five columns of the 60 px that a finger needs, with 8 px between, are 332 px: on the narrowest
// phone, 360 px, they leave 14 px at either side and no room for the grades' names, so those stand
// on the rows' upper edges. Where there are more columns the grid scrolls sideways, fades where it
// goes on, and begins with the class used most in sight. Which are shown is in use_lengths.ts.

import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import { gradesHighToLow, type LengthClass, type LengthUnit, type ToldGrade, untoldLength } from '../crop/nouns'
import { count, t, words } from '../messages/messages'
import './count-grid.css'
import { useFlick } from './flick'
import { keyOf, type LengthsInUse, lengthName, lengthSpoken } from './lengths'
import { LengthPicker } from './LengthPicker'

export interface CountGridProps {
  readonly inUse: LengthsInUse
  readonly unit: LengthUnit
  readonly stems: (grade: ToldGrade, length: LengthClass) => number
  readonly last: { readonly grade: ToldGrade; readonly length: LengthClass } | undefined
  /** What a tap adds, to be read aloud: "add one". */
  readonly adds: string
  readonly onTap: (grade: ToldGrade, length: LengthClass) => void
  /** A cell flicked upwards; without it a flick is nothing of its own. */
  readonly onFlick?: (grade: ToldGrade, length: LengthClass) => void
}

export function CountGrid(props: CountGridProps) {
  const { inUse, unit } = props
  const [choosing, setChoosing] = useState(false)
  const lengths = [...inUse.lengths, untoldLength]
  const box = useRef<HTMLDivElement>(null)
  useEffect(() => startAt(box.current, inUse.most), [choosing])
  useEffect(() => tellEdges(box.current), [choosing, lengths.length])
  if (choosing) return <LengthPicker inUse={inUse} unit={unit} onDone={() => setChoosing(false)} />
  return (
    <div
      class={`count-grid ${props.onFlick ? 'flicks' : ''}`} ref={box} role="group" aria-label={t('grid.name')}
      style={{ '--columns': lengths.length + 1 }} onScroll={(event) => tellEdges(event.currentTarget)}
    >
      {lengths.map((length, i) => (
        <span class="length" key={keyOf(length)} style={{ gridArea: `1 / ${i + 1}` }} aria-hidden="true">{lengthName(length, unit)}</span>
      ))}
      {gradesHighToLow.map((grade, row) => [
        ...lengths.map((length, i) => (
          <Cell key={`${grade} ${keyOf(length)}`} {...props} grade={grade} length={length} row={row + 2} column={i + 1} />
        )),
        <span class="grade" key={grade} style={{ gridRow: row + 2 }} aria-hidden="true">{t(`grade.${grade}`)}</span>,
      ])}
      <button
        type="button" class="cell more" style={{ gridArea: `2 / ${lengths.length + 1} / 6` }}
        onClick={() => setChoosing(true)}
      >
        {t('grid.more')}
      </button>
    </div>
  )
}

interface CellProps extends CountGridProps {
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly row: number
  readonly column: number
}

function Cell({ grade, length, row, column, unit, stems, last, adds, onTap, onFlick }: CellProps) {
  const n = stems(grade, length)
  const isLast = last?.grade === grade && keyOf(last.length) === keyOf(length)
  const touched = useFlick(() => onTap(grade, length), onFlick && (() => onFlick(grade, length)))
  // A tap changes one cell or two of thirty: the others are not even described again.
  return useMemo(() => (
    <button
      type="button" style={{ gridArea: `${row} / ${column}` }} {...touched}
      class={`cell ${n === 0 ? 'zero' : ''} ${n > 99 ? 'long' : ''} ${isLast ? 'last' : ''} ${grade === 'out' ? 'out' : ''}`}
      aria-label={t('grid.cell', {
        grade: t(`grade.${grade || 'untold'}`), length: lengthSpoken(length, unit), n, adds,
      })}
    >
      {count(n)}
    </button>
  ), [n, isLast, grade, length.lo, length.hi, row, column, unit, adds, words.value])
}

/** Scrolls so that the class used most and its longer neighbour are in sight, and no further. */
function startAt(box: HTMLDivElement | null, column: number): void {
  const names = box?.querySelectorAll<HTMLElement>('.length')
  const neighbour = names?.[Math.min(column + 1, names.length - 1)]
  if (box && neighbour) box.scrollLeft = neighbour.offsetLeft + neighbour.offsetWidth - box.clientWidth + 14
}

/** Says at which sides the grid goes on, for the style to fade it there. */
function tellEdges(box: HTMLDivElement | null): void {
  if (!box) return
  const left = box.scrollLeft > 2
  const right = box.scrollLeft + box.clientWidth < box.scrollWidth - 2
  box.dataset['more'] = [left ? 'left' : '', right ? 'right' : ''].join(' ').trim()
}
