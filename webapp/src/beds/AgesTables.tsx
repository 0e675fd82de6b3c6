// Every number of the charts, with its interval and the plants behind it.

import type { ComponentChildren } from 'preact'
import { gradesHighToLow } from '../crop/nouns'
import { count, t } from '../messages/messages'
import type { Age, ByGrade, GradeCell } from './ages'
import { inHundred, whole } from './ages_sentence'
import { rowName } from './GradeBars'

interface TablesProps {
  readonly ages: readonly Age[]
  /** Coverage of the intervals, in a hundred. */
  readonly hundred: number
}

export function StemsTable({ ages, hundred }: TablesProps) {
  return (
    <TableBox caption={t('ages.table.stems', { hundred })}>
      <thead>
        <tr>
          <th scope="col">{t('ages.age')}</th><th scope="col">{t('ages.plants')}</th><th scope="col">{t('ages.zero')}</th>
          <th scope="col">{t('ages.mean')}</th><th scope="col">{t('ages.new')}</th><th scope="col">{t('ages.total')}</th>
        </tr>
      </thead>
      <tbody>
        {ages.map((age) => (
          <tr key={age.age}>
            <td>{count(age.age)}</td><td>{count(age.plant_seasons)}</td><td>{count(age.zero)}</td>
            <td>{span(whole(age.stems.mean), whole(age.stems.lo), whole(age.stems.hi))}</td>
            <td>{t('ages.range', { lo: age.stems.new_lo, hi: age.stems.new_hi })}</td><td>{count(age.stems_total)}</td>
          </tr>
        ))}
      </tbody>
    </TableBox>
  )
}

export function GradesTable({ ages, hundred }: TablesProps) {
  const rows = ages.flatMap((age) => age.grades.map((cell) => ({ age: age.age, cell })))
  if (rows.length === 0) return null
  return (
    <TableBox caption={t('ages.table.grades', { hundred })}>
      <thead>
        <tr>
          <th scope="col">{t('ages.age')}</th>
          {gradesHighToLow.map((grade) => <th scope="col" key={grade}>{t(`grade.${grade}`)}</th>)}
          <th scope="col">{t('stems.head')}</th><th scope="col">{t('ages.plants')}</th>
        </tr>
      </thead>
      <tbody>{rows.map(({ age, cell }) => <GradeRow key={`${age}${cell.flush}`} age={age} cell={cell} />)}</tbody>
    </TableBox>
  )
}

/** A table under its caption, which stays put while the table scrolls sideways. */
function TableBox({ caption, children }: { readonly caption: string; readonly children: ComponentChildren }) {
  return (
    <section>
      <p class="small">{caption}</p>
      <div class="scroll" tabIndex={0} role="region" aria-label={caption}><table>{children}</table></div>
    </section>
  )
}

function GradeRow({ age, cell }: { readonly age: number; readonly cell: GradeCell }) {
  const of = (by: ByGrade) => (grade: keyof ByGrade) => inHundred(by[grade])
  const [p, lo, hi] = [of(cell.p), of(cell.lo), of(cell.hi)]
  return (
    <tr>
      <td>{rowName(age, cell)}</td>
      {gradesHighToLow.map((grade) => <td key={grade}>{span(p(grade), lo(grade), hi(grade))}</td>)}
      <td>{count(cell.stems)}</td><td>{count(cell.plants)}</td>
    </tr>
  )
}

function span(value: number, lo: number, hi: number) {
  return <><b>{count(value)}</b> <span class="small">{t('ages.range', { lo, hi })}</span></>
}
