// From nothing to an open notebook, a farm in it, and a person: then the places.

import { useEffect, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { openNotebook } from '../sync/open'
import { readDevice } from '../ui/device'
import { NotebookContext } from '../ui/notebook'
import { type Problem, problemOf } from './problem'
import { ProblemPage } from './ProblemPage'
import { Shell } from './Shell'
import { Welcome } from './Welcome'
import { WhoAreYou } from './WhoAreYou'

export function App() {
  const [notebook, setNotebook] = useState<Notebook | undefined>(undefined)
  const [problem, setProblem] = useState<Problem | undefined>(undefined)
  const open = async (takeOver: boolean) => {
    setProblem(undefined)
    setNotebook(undefined)
    const opened = await openNotebook({ takeOver, onLost: () => setProblem('taken_over') })
    if (opened.problem !== undefined) return setProblem(opened.problem)
    readDevice(opened.notebook)
    setNotebook(opened.notebook)
  }
  useEffect(() => { void open(false) }, [])

  if (problem !== undefined) return <ProblemPage problem={problem} onRetry={() => retry(problem, open)} />
  if (!notebook) return <p class="welcome small" role="status">{t('opening')}</p>
  return (
    <NotebookContext.Provider value={notebook}>
      <Opened notebook={notebook} />
    </NotebookContext.Provider>
  )
}

function retry(problem: Problem, open: (takeOver: boolean) => Promise<void>): void {
  if (problem === 'newer_format') location.reload()
  else void open(problem === 'other_tab' || problem === 'taken_over')
}

function Opened({ notebook }: { readonly notebook: Notebook }) {
  const { levelAt, progress } = notebook.sync.value
  const problem = problemOf(notebook.sync.value, notebook.storage.value)
  if (problem !== undefined) return <ProblemPage problem={problem} onRetry={() => notebook.tryAgain()} />
  if (levelAt === 0) {
    return (
      <Welcome title={t('fetching')}>
        {progress && <p role="status">{t('fetching.progress', { done: progress.done, total: progress.total })}</p>}
      </Welcome>
    )
  }
  return notebook.person.value === '' ? <WhoAreYou /> : <Shell />
}
