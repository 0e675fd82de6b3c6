// The numbers of stems and grades, with their intervals and the plants behind them.

import { gradesHighToLow } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { type Per, scaled, type Share } from './ages_per'
import type { Age, ByGrade, GradeCell } from './ages_report'
import { flushName, inHundred, rangeText, whole } from './ages_sentence'
import { Estimate } from './IntervalTable'
import { TableBox } from './TableBox'
import { Cell, Head } from './TableCells'

interface StemsTableProps {
  readonly ages: readonly Age[]
  readonly shares: readonly Share[]
  readonly per: Per
  /** Coverage of the intervals, in a hundred. */
  readonly hundred: number
}

export function StemsTable({ ages, shares, per, hundred }: StemsTableProps) {
  return (
    <TableBox caption={t('ages.table.stems', { per: t(`ages.stems.${per}`), hundred })} beside={3}>
      <thead role="rowgroup">
        <tr role="row">
          <Head>{t('ages.age')}</Head><Head>{t('ages.mean')}</Head><Head>{t('ages.new')}</Head><Head>{t('ages.total')}</Head>
          <Head under>{t('ages.divided')}</Head><Head under>{t('ages.plants.counted')}</Head><Head under>{t('ages.zero')}</Head>
        </tr>
      </thead>
      <tbody role="rowgroup">
        {ages.map((age, i) => (
          <tr key={age.age} role="row">
            <Cell>{count(age.age)}</Cell><Cell><Mean age={age} share={shares[i]} /></Cell>
            <Cell>{rangeText(age.stems.new_lo, age.stems.new_hi)}</Cell><Cell>{count(age.stems_total)}</Cell>
            <Cell under={t('ages.divided')}>{count(shares[i]?.plants ?? 0)}</Cell>
            <Cell under={t('ages.plants.counted')}>{count(age.plant_seasons)}</Cell><Cell under={t('ages.zero')}>{count(age.zero)}</Cell>
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
    <TableBox caption={t('ages.table.grades', { hundred })} beside={gradesHighToLow.length}>
      <thead role="rowgroup">
        <tr role="row">
          <Head>{t('ages.age')}</Head>
          {gradesHighToLow.map((grade) => <Head key={grade}>{t(`grade.${grade}`)}</Head>)}
          <Head under>{t('stems.head')}</Head><Head under>{t('ages.plants')}</Head>
        </tr>
      </thead>
      <tbody role="rowgroup">{rows.map(({ age, cell }) => <GradeRow key={`${age}${cell.flush}`} age={age} cell={cell} />)}</tbody>
    </TableBox>
  )
}

function GradeRow({ age, cell }: { readonly age: number; readonly cell: GradeCell }) {
  const of = (by: ByGrade) => (grade: keyof ByGrade) => inHundred(by[grade])
  const [p, lo, hi] = [of(cell.p), of(cell.lo), of(cell.hi)]
  return (
    <tr role="row">
      <Cell>{flushName(age, cell.flush)}</Cell>
      {gradesHighToLow.map((grade) => <Cell key={grade}><Estimate value={p(grade)} lo={lo(grade)} hi={hi(grade)} /></Cell>)}
      <Cell under={t('stems.head')}>{count(cell.stems)}</Cell><Cell under={t('ages.plants')}>{count(cell.plants)}</Cell>
    </tr>
  )
}
