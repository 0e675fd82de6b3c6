// A visit's counts, each open to correction by whoever recorded it, and by an owner.

import { useState } from 'preact/hooks'
import type { Count, Farm, Visit } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { ByColour } from './ByColour'
import { cellName, cellOf, mostOf } from './cells'
import { useMayCorrect } from './rights'
import { TotalEditor } from './TotalEditor'

interface CorrectableCountsProps {
  readonly farm: Farm
  readonly visit: Visit
  readonly counts: readonly Count[]
  /** A line below a count's name. */
  readonly below?: (stems: number) => string
}

export function CorrectableCounts({ farm, visit, counts, below }: CorrectableCountsProps) {
  const [open, setOpen] = useState('')
  const mayCorrect = useMayCorrect(visit)
  return (
    <ByColour farm={farm} of={counts} colour={({ colour }) => colour} stems={({ stems }) => stems} row={(one) => {
      const cell = cellOf(visit, one)
      const name = cellName(farm, one)
      if (open === cell) {
        return <li key={cell}><TotalEditor visit={visit} cell={cell} name={name} most={mostOf(visit)} onDone={() => setOpen('')} /></li>
      }
      const said = <span>{name}{below && <span class="small block">{below(one.stems)}</span>}</span>
      if (!mayCorrect) return <li key={cell}><div class="line plain">{said}<span class="n">{count(one.stems)}</span></div></li>
      return (
        <li key={cell}>
          <button type="button" class="line plain" onClick={() => setOpen(cell)}>
            {said}
            <span class="n">{count(one.stems)}<span class="unseen"> {t('correct', { n: one.stems })}</span></span>
          </button>
        </li>
      )
    }} />
  )
}
