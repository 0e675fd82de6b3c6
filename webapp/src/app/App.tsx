// From nothing to an open notebook, a farm in it, and a person: then the places.

import { useEffect, useState } from 'preact/hooks'
import { doorOf } from '../join/door'
import { JoinPage } from '../join/JoinPage'
import { labelHere } from '../join/label'
import { broughtCode } from '../join/link'
import { t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { type Opened, openNotebook } from '../sync/open'
import { readDevice } from '../ui/device'
import { NotebookContext } from '../ui/notebook'
import { go, route } from '../ui/route'
import { Welcome } from '../ui/Welcome'
import { FirstOwner, isNameless } from './FirstOwner'
import { type Problem, problemOf } from './problem'
import { ProblemPage } from './ProblemPage'
import { Shell } from './Shell'
import { WithPhotos } from './WithPhotos'

const door = doorOf(labelHere, () => broughtCode.peek() !== '')

type Open = Opened | { readonly notebook?: undefined; readonly problem: 'taken_over' }

export function App() {
  const [opened, setOpened] = useState<Open | undefined>(undefined)
  const open = async (takeOver: boolean) => {
    setOpened(undefined)
    const now = await openNotebook({ door, takeOver, onLost: () => setOpened({ problem: 'taken_over' }) })
    if (now.notebook) readDevice(now.notebook)
    setOpened(now)
  }
  useEffect(() => { void open(false) }, [])

  if (opened === undefined) return <p class="welcome small" role="status">{t('opening')}</p>
  if (opened.notebook) {
    return (
      <NotebookContext.Provider value={opened.notebook}>
        <WithPhotos><WithNotebook notebook={opened.notebook} /></WithPhotos>
      </NotebookContext.Provider>
    )
  }
  if (opened.problem === 'join' || opened.problem === 'withdrawn') {
    const { device, problem, emptied } = opened
    return <JoinPage door={door} device={device} why={problem} emptied={emptied} onDone={() => { go('start'); void open(false) }} />
  }
  const { problem } = opened
  return <ProblemPage problem={problem} onRetry={() => retry(problem, open)} />
}

function retry(problem: Problem, open: (takeOver: boolean) => Promise<void>): void {
  if (problem === 'newer_format') location.reload()
  else void open(problem === 'other_tab' || problem === 'taken_over')
}

function WithNotebook({ notebook }: { readonly notebook: Notebook }) {
  const { levelAt, progress } = notebook.sync.value
  const barred = notebook.barred.value
  const stranger = notebook.person.value === '' || (levelAt === 0 && barred !== undefined)
  if (route.value[0] === 'join' || stranger) {
    const why = stranger ? barred ?? 'join' : barred
    return <JoinPage door={door} device={notebook.device} why={why} notebook={notebook} onDone={() => go('start')} />
  }
  const problem = problemOf(notebook.sync.value, notebook.storage.value)
  if (problem !== undefined) return <ProblemPage problem={problem} onRetry={() => notebook.tryAgain()} />
  if (levelAt === 0) {
    return (
      <Welcome title={t('fetching')}>
        {progress && <p role="status">{t('fetching.progress', { done: progress.done, total: progress.total })}</p>}
      </Welcome>
    )
  }
  const member = notebook.member.value
  return member && isNameless(notebook) ? <FirstOwner person={member.person} /> : <Shell />
}
