// Grades down, lengths across; one tap one stem or one bunch. Used in the row and on the bench.

import { useEffect, useMemo, useRef } from 'preact/hooks'
import { gradesHighToLow, type LengthClass, type LengthUnit, type ToldGrade, untoldLength } from '../crop/nouns'
import { count, t, words } from '../messages/messages'
import './count-grid.css'
import { keyOf, type LengthsInUse, lengthName, lengthSpoken } from './lengths'

export interface CountGridProps {
  readonly inUse: LengthsInUse
  readonly unit: LengthUnit
  readonly stems: (grade: ToldGrade, length: LengthClass) => number
  readonly last: { readonly grade: ToldGrade; readonly length: LengthClass } | undefined
  /** What a tap adds, to be read aloud: "add one". */
  readonly adds: string
  readonly onTap: (grade: ToldGrade, length: LengthClass) => void
}

export function CountGrid(props: CountGridProps) {
  const { inUse, unit } = props
  const lengths = [...inUse.lengths, untoldLength]
  const box = useRef<HTMLDivElement>(null)
  useEffect(() => startAt(box.current, inUse.most), [])
  return (
    <div class="count-grid" ref={box} role="group" aria-label={t('grid.name')} style={{ '--columns': lengths.length }}>
      <span class="corner" />
      {lengths.map((length) => <span class="length" key={keyOf(length)} aria-hidden="true">{lengthName(length, unit)}</span>)}
      {gradesHighToLow.map((grade) => [
        <span class="grade" key={grade} aria-hidden="true">{t(`grade.${grade}`)}</span>,
        ...lengths.map((length) => <Cell key={`${grade} ${keyOf(length)}`} {...props} grade={grade} length={length} />),
      ])}
    </div>
  )
}

interface CellProps extends CountGridProps {
  readonly grade: ToldGrade
  readonly length: LengthClass
}

function Cell({ grade, length, unit, stems, last, adds, onTap }: CellProps) {
  const n = stems(grade, length)
  const isLast = last?.grade === grade && keyOf(last.length) === keyOf(length)
  const tap = useRef(onTap)
  tap.current = onTap
  // A tap changes one cell or two of thirty: the others are not even described again.
  return useMemo(() => (
    <button
      type="button" class={`cell ${n === 0 ? 'zero' : ''} ${isLast ? 'last' : ''} ${grade === 'out' ? 'out' : ''}`}
      aria-label={t('grid.cell', {
        grade: t(`grade.${grade || 'untold'}`), length: lengthSpoken(length, unit), n, adds,
      })}
      onClick={() => tap.current(grade, length)}
    >
      {count(n)}
    </button>
  ), [n, isLast, grade, length.lo, length.hi, unit, adds, words.value])
}

/** Scrolls so that the class used most stands second, its shorter neighbour in sight. */
function startAt(box: HTMLDivElement | null, column: number): void {
  const cell = box?.querySelectorAll<HTMLElement>('.length')[Math.max(0, column - 1)]
  const first = box?.querySelector<HTMLElement>('.length')
  if (box && cell && first) box.scrollLeft = cell.offsetLeft - first.offsetLeft
}
