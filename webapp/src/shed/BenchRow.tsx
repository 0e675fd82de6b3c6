// Whether what was counted in the row came over the bench: a sentence a bed, and a small table.

import type { ComponentChildren } from 'preact'
import type { ColourID, Day, Farm, Millimetres } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { lengthName } from '../ui/lengths'
import { useNotebook } from '../ui/notebook'
import { Marked } from '../ui/Say'
import { type Pair, type Reconciled, reconciled } from './bench_row'

export function BenchRow({ date }: { readonly date: Day }) {
  const farm = useNotebook().farm.value
  const beds = reconciled(farm, date)
  if (beds.length === 0) return null
  return (
    <section class="bench-row" aria-label={t('bench_row.title')}>
      <h2>{t('bench_row.title')}</h2>
      {beds.map((one) => <OneBed key={one.bed} farm={farm} one={one} />)}
    </section>
  )
}

interface OneBedProps {
  readonly farm: Farm
  readonly one: Reconciled
}

function OneBed({ farm, one }: OneBedProps) {
  const off = difference(one)
  return (
    <div class="card">
      <p><b>{farm.beds.get(one.bed)?.name ?? t('bed.unknown')}</b></p>
      <p><Marked text={sentence(one)} /></p>
      {one.compared === 'row_part' && <p class="small">{t('bench_row.part')}</p>}
      {one.compared === 'bench_part' && <p class="small">{t('bench_row.bench_part')}</p>}
      {off !== 0 && one.bench > 0 && <p class="small">{t(off < 0 ? 'bench_row.check.fewer' : 'bench_row.check.more')}</p>}
      {one.bench > 0 && one.colours.length > 0 && (
        <Pairs name={t('bench_row.by_colour')} one={one} pairs={one.colours} of={(colour) => <Colour farm={farm} id={colour} />} />
      )}
      {one.bench > 0 && one.grades.length > 0 && (
        <Pairs name={t('bench_row.by_grade')} one={one} pairs={one.grades} of={(grade) => t(`grade.${grade || 'untold'}`)} />
      )}
      {one.bench > 0 && one.lengths.length > 0 && (
        <Pairs name={t('bench_row.by_length')} one={one} pairs={one.lengths} of={(length) => lengthOf(farm, length)} />
      )}
    </div>
  )
}

function lengthOf(farm: Farm, text: string): string {
  const [lo, hi] = text.split('|').map(Number)
  return text === '' ? t('tally.length.untold') : lengthName({ lo: lo as Millimetres, hi: hi as Millimetres }, farm.unit)
}

/** Stems on the bench more than in the row, below zero for fewer; 0 where a part cannot tell. */
function difference({ row, bench, compared }: Reconciled): number {
  const more = bench - row
  if (compared === 'row_part') return Math.min(0, more)
  return compared === 'bench_part' ? Math.max(0, more) : more
}

function sentence(one: Reconciled): string {
  const { row, bench, compared } = one
  const inRow = compared === 'row_part' ? t('bench_row.at_least', { stems: count(row) }) : count(row)
  if (bench === 0) return t('bench_row.none', { row: inRow })
  const onBench = compared === 'bench_part' ? t('bench_row.at_least', { stems: count(bench) }) : count(bench)
  const off = difference(one)
  const sides = { row: inRow, bench: onBench }
  const n = Math.abs(off)
  if (compared === 'whole') return off === 0 ? t('bench_row.same', sides) : t(off < 0 ? 'bench_row.fewer' : 'bench_row.more', { ...sides, n })
  return off === 0 ? t('bench_row.sides', sides) : t(off < 0 ? 'bench_row.part.fewer' : 'bench_row.part.more', { ...sides, n })
}

interface PairsProps<Of extends string> {
  readonly name: string
  readonly one: Reconciled
  readonly pairs: readonly Pair<Of>[]
  readonly of: (of: Of) => ComponentChildren
}

function Pairs<Of extends string>({ name, one, pairs, of }: PairsProps<Of>) {
  const whole = one.compared === 'whole'
  return (
    <table class="pairs">
      <caption>{name}</caption>
      <thead>
        <tr>
          <td />
          <th scope="col">{t(one.compared === 'row_part' ? 'bench_row.row.part' : 'bench_row.row')}</th>
          <th scope="col">{t(one.compared === 'bench_part' ? 'bench_row.bench.part' : 'bench_row.bench')}</th>
          {whole && <th scope="col">{t('bench_row.difference')}</th>}
        </tr>
      </thead>
      <tbody>
        {pairs.map((pair) => (
          <tr key={pair.of}>
            <th scope="row">{of(pair.of)}</th>
            <td>{count(pair.row)}</td>
            <td>{count(pair.bench)}</td>
            {whole && <td>{signed(pair.bench - pair.row)}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Colour({ farm, id }: { readonly farm: Farm; readonly id: ColourID | '' }) {
  const colour = id === '' ? undefined : farm.colours.get(id)
  return <span class="pair-colour"><Head swatch={colour?.swatch ?? ''} size={24} />{colour?.name ?? t('bench.colour.mixed')}</span>
}

/** "+3", "−3" with a true minus, or "0". */
function signed(n: number): string {
  if (n === 0) return count(0)
  return `${n > 0 ? '+' : '\u2212'}${count(Math.abs(n))}`
}
