// Grades in a hundred stems, by season in the ground and flush.

import { gradesHighToLow } from '../crop/nouns'
import { t } from '../messages/messages'
import type { Age, GradeCell } from './ages_report'
import { flushName, inHundred } from './ages_sentence'

/** Least share, in a hundred, whose number fits into its part of the bar. */
const leastWritten = 8

export function GradeBars({ ages }: { readonly ages: readonly Age[] }) {
  const rows = ages.flatMap((age) => age.grades.map((cell) => ({ age: age.age, cell })))
  if (rows.length === 0) return null
  return (
    <figure class="chart">
      <ul class="grade-bars">
        {rows.map(({ age, cell }) => (
          <li key={`${age}${cell.flush}`}>
            <span class="small">{flushName(age, cell.flush)}</span>
            <Bar cell={cell} />
          </li>
        ))}
      </ul>
      <ul class="legend small">
        {gradesHighToLow.map((grade) => <li key={grade}><span class={`swatch g-${grade}`} />{t(`grade.${grade}`)}</li>)}
      </ul>
    </figure>
  )
}

function Bar({ cell }: { readonly cell: GradeCell }) {
  return (
    <div class="grade-bar" aria-hidden="true">
      {gradesHighToLow.map((grade) => {
        const share = inHundred(cell.p[grade])
        return <span key={grade} class={`g-${grade}`} style={{ flexGrow: cell.p[grade] }}>{share >= leastWritten ? share : ''}</span>
      })}
    </div>
  )
}
