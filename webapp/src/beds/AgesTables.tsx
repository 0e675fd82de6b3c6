// The numbers of stems and grades, with their intervals and the plants behind them.

import { gradesHighToLow } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { type Per, scaled, type Share } from './ages_per'
import type { Age, ByGrade, GradeCell } from './ages_report'
import { flushName, inHundred, rangeText, whole } from './ages_sentence'
import { Estimate } from './IntervalTable'
import { TableBox } from './TableBox'

interface StemsTableProps {
  readonly ages: readonly Age[]
  readonly shares: readonly Share[]
  readonly per: Per
  /** Coverage of the intervals, in a hundred. */
  readonly hundred: number
}

export function StemsTable({ ages, shares, per, hundred }: StemsTableProps) {
  return (
    <TableBox caption={t('ages.table.stems', { per: t(`ages.stems.${per}`), hundred })}>
      <thead>
        <tr>
          <th scope="col">{t('ages.age')}</th><th scope="col">{t('ages.mean')}</th><th scope="col">{t('ages.divided')}</th>
          <th scope="col">{t('ages.new')}</th><th scope="col">{t('ages.plants.counted')}</th><th scope="col">{t('ages.zero')}</th>
          <th scope="col">{t('ages.total')}</th>
        </tr>
      </thead>
      <tbody>
        {ages.map((age, i) => (
          <tr key={age.age}>
            <td>{count(age.age)}</td><td><Mean age={age} share={shares[i]} /></td><td>{count(shares[i]?.plants ?? 0)}</td>
            <td>{rangeText(age.stems.new_lo, age.stems.new_hi)}</td><td>{count(age.plant_seasons)}</td><td>{count(age.zero)}</td>
            <td>{count(age.stems_total)}</td>
          </tr>
        ))}
      </tbody>
    </TableBox>
  )
}

function Mean({ age, share }: { readonly age: Age; readonly share: Share | undefined }) {
  if (share?.factor === undefined) return <span class="small">{t('ages.untold')}</span>
  const { mean, lo, hi } = scaled(age.stems, share.factor)
  return <Estimate value={whole(mean)} lo={whole(lo)} hi={whole(hi)} />
}

export function GradesTable({ ages, hundred }: { readonly ages: readonly Age[]; readonly hundred: number }) {
  const rows = ages.flatMap((age) => age.grades.map((cell) => ({ age: age.age, cell })))
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

function GradeRow({ age, cell }: { readonly age: number; readonly cell: GradeCell }) {
  const of = (by: ByGrade) => (grade: keyof ByGrade) => inHundred(by[grade])
  const [p, lo, hi] = [of(cell.p), of(cell.lo), of(cell.hi)]
  return (
    <tr>
      <td>{flushName(age, cell.flush)}</td>
      {gradesHighToLow.map((grade) => <td key={grade}><Estimate value={p(grade)} lo={lo(grade)} hi={hi(grade)} /></td>)}
      <td>{count(cell.stems)}</td><td>{count(cell.plants)}</td>
    </tr>
  )
}
