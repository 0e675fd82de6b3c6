// What is wrong with the camera's picture, in words that are read at arm's length.

import type { Problem } from '../colourcard/measurement'
import { t } from '../messages/messages'
import { byItself } from './by_itself'
import { ofBatch, type Subject } from './live_problems'
import { problemShort, problemText } from './words'

interface SightWordsProps {
  /** The one thing to mend now; undefined where all is well. */
  readonly problem: Problem | undefined
  /** All that the last look found; undefined before the first. */
  readonly problems: readonly Problem[] | undefined
  readonly subject: Subject
  /** The card has not been out of sight since the head before. */
  readonly stale: boolean
}

export function SightWords({ problem, problems, subject, stale }: SightWordsProps) {
  const [short, text] = stale && problem === undefined ? [t('measuring.stale'), t('measuring.stale.do')] as const : said(problem, problems, subject)
  return (
    <div class="sight-words" role="status">
      <p class="large">{short}</p>
      <p>{text}</p>
    </div>
  )
}

/** While no card is in sight it is said where it belongs. A batch that is unknown or has faded is told while all else is well. */
function said(problem: Problem | undefined, problems: readonly Problem[] | undefined, subject: Subject): readonly [string, string] {
  if (!problems || problem === 'no_card') {
    return subject === 'card' ? [t('measuring.card.aim'), t('measuring.card.aim.do')] : [t('measuring.aim'), t('measuring.aim.do')]
  }
  if (problem !== undefined) return [problemShort(problem), problemText(problem)]
  const [batch] = ofBatch(problems)
  const alone = byItself.value
  return [t(alone ? 'measuring.ready' : 'measuring.ready.tap'), batch ? problemShort(batch) : alone ? t('measuring.ready.do') : '']
}
