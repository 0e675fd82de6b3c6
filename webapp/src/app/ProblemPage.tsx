// Why the app cannot work here, before the first tap: what happened, what is safe, what to do.

import { t } from '../messages/messages'
import type { Problem } from './problem'
import { Welcome } from '../ui/Welcome'

interface ProblemPageProps {
  readonly problem: Problem
  /** Tries again; for another tab, takes the notebook over from it. */
  readonly onRetry: () => void
}

export function ProblemPage({ problem, onRetry }: ProblemPageProps) {
  return (
    <Welcome title={t(`problem.${problem}`)}>
      <p role="alert">{t(`problem.${problem}.what`)}</p>
      <p>{t(`problem.${problem}.safe`)}</p>
      <p>{t(`problem.${problem}.do`)}</p>
      <button type="button" class="btn main" onClick={onRetry}>{t(`problem.${problem}.button`)}</button>
    </Welcome>
  )
}
