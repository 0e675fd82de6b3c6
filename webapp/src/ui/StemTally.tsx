// Stems by colour class and grade, and by length: a day's cut, or what lies in the cooler.

import { gradesHighToLow, type Farm, type ToldGrade } from '../crop/nouns'
import type { Tally } from '../crop/tally'
import { count, t } from '../messages/messages'
import { Head } from './Head'
import { lengthName } from './lengths'
import { inTens } from './lot_words'
import './stem-tally.css'

export function StemTally({ farm, tally }: { readonly farm: Farm; readonly tally: Tally }) {
  const grades = [...gradesHighToLow, ''].filter((grade): grade is ToldGrade => (tally.grades.get(grade as ToldGrade) ?? 0) > 0)
  if (tally.stems === 0) return null
  return (
    <div class="stem-tally">
      <div class="scroll">
        <table>
          <caption>{t('tally.by_colour')}</caption>
          <thead>
            <tr><td />{grades.map((grade) => <th key={grade} scope="col">{t(`grade.${grade || 'untold'}`)}</th>)}<th scope="col">{t('tally.all')}</th></tr>
          </thead>
          <tbody>
            {tally.colours.map(({ colour, stems, grades: of }) => (
              <tr key={colour}>
                <th scope="row">
                  <span class="tally-colour"><Head swatch={(colour !== '' && farm.colours.get(colour)?.swatch) || ''} size={24} />{(colour !== '' && farm.colours.get(colour)?.name) || t('bench.colour.mixed')}</span>
                </th>
                {grades.map((grade) => <td key={grade}>{of.has(grade) ? count(of.get(grade)!) : '–'}</td>)}
                <td><b>{count(stems)}</b></td>
              </tr>
            ))}
            <tr>
              <th scope="row">{t('tally.all')}</th>
              {grades.map((grade) => <td key={grade}>{count(tally.grades.get(grade) ?? 0)}</td>)}
              <td><b>{count(tally.stems)}</b></td>
            </tr>
          </tbody>
        </table>
      </div>
      <table>
        <caption>{t('tally.by_length')}</caption>
        <tbody>
          {tally.lengths.map(({ length, stems }) => (
            <tr key={`${length.lo}|${length.hi}`}>
              <th scope="row">{length.hi === 0 ? t('tally.length.untold') : lengthName(length, farm.unit)}</th>
              <td>{inTens(stems)}</td>
              <td><b>{count(stems)}</b></td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
