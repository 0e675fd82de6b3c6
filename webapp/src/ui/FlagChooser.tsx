// The kinds of flags of a plant: one tap raises, one tap clears, and what stands says since when and by whom.

import { useState } from 'preact/hooks'
import { standingFlag, toggleFacts } from '../crop/flags'
import type { Farm, Flag, FlagKind, Plant } from '../crop/nouns'
import { flagKinds } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { announce } from './announce'
import './flags.css'
import { Icon } from './Icon'
import { useNotebook } from './notebook'
import { today } from './today'
import { failureText } from './words'

export function FlagChooser({ plant }: { readonly plant: Plant }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [problem, setProblem] = useState('')
  const toggle = async (kind: FlagKind) => {
    const raised = standingFlag(plant, kind) !== undefined
    try {
      await notebook.recordInTurn(() => ({
        facts: toggleFacts(notebook.farm.peek(), plant.id, kind, today.peek(), notebook.person.peek()), alongside: {},
      }))
      setProblem('')
      announce(t(raised ? 'flags.cleared' : 'flags.raised', { flag: t(`flag.${kind}`), code: plant.code }))
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <div class="flag-chooser">
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <ul>
        {flagKinds.map((kind) => <li key={kind}><FlagButton farm={farm} kind={kind} flags={plant.flags.filter((flag) => flag.kind === kind)} onTap={() => void toggle(kind)} /></li>)}
      </ul>
    </div>
  )
}

interface FlagButtonProps {
  readonly farm: Farm
  readonly kind: FlagKind
  /** Those of its kind that stand: several where people raised it without seeing each other. */
  readonly flags: readonly Flag[]
  readonly onTap: () => void
}

function FlagButton({ farm, kind, flags, onTap }: FlagButtonProps) {
  return (
    <button type="button" class="btn flag" aria-pressed={flags.length > 0} onClick={onTap}>
      <Icon name={flags.length > 0 ? 'flagged' : 'flag'} />
      <span>{t(`flag.${kind}`)}{flags.map((flag) => <span key={`${flag.day} ${flag.by}`} class="small block">{flaggedBy(farm, flag)}</span>)}</span>
    </button>
  )
}

/** "Wed 3 June, Maren". */
export function flaggedBy(farm: Farm, flag: Pick<Flag, 'day' | 'by'>): string {
  const name = flag.by === '' ? undefined : farm.people.get(flag.by)?.name
  return [dayName(flag.day, today.value), name].filter(Boolean).join(', ')
}
