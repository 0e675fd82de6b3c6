// Doing something and taking it back: what is said was stored, and its undo is offered as long as the page is open.

import { useRef, useState } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import type { Fact } from '../log/change'
import { t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { announce } from './announce'
import { useNotebook } from './notebook'
import { failureText } from './words'

export interface Undoing {
  readonly facts: readonly Fact[]
  readonly undo: readonly Fact[]
  /** What is said once it is stored. */
  readonly said: string
}

export interface Undoable {
  /** What was done last and was not taken back. */
  readonly done: Undoing | undefined
  readonly problem: string
  /** Plans from the farm as it stands when its turn to be stored comes, and stores it; a text is why it cannot be. Tells whether it was stored. */
  readonly act: (plan: (farm: Farm) => Undoing | string) => Promise<boolean>
  readonly undo: () => Promise<void>
}

export function useUndoable(): Undoable {
  const notebook = useNotebook()
  const [done, setDone] = useState<Undoing | undefined>(undefined)
  const [problem, setProblem] = useState('')
  // A second tap, before the first is seen to be done, would do it twice.
  const busy = useRef(false)
  const attempt = async (what: () => Promise<Undoing | undefined | string>, said: string): Promise<boolean> => {
    if (busy.current) return false
    busy.current = true
    try {
      const came = await what()
      if (typeof came === 'string') {
        setProblem(came)
        return false
      }
      setDone(came)
      setProblem('')
      announce(came?.said ?? said)
      return true
    } catch (reason) {
      setProblem(failureText(reason))
      return false
    } finally {
      busy.current = false
    }
  }
  const act = (plan: (farm: Farm) => Undoing | string) => attempt(() => store(notebook, plan), '')
  const undo = async () => {
    await attempt(async () => {
      await notebook.record(done?.undo ?? [])
      return undefined
    }, t('lineage.undone'))
  }
  return { done, problem, act, undo }
}

async function store(notebook: Notebook, plan: (farm: Farm) => Undoing | string): Promise<Undoing | string> {
  let planned: Undoing | string = ''
  await notebook.recordInTurn(() => {
    planned = plan(notebook.farm.peek())
    return { facts: typeof planned === 'string' ? [] : planned.facts, alongside: {} }
  })
  return planned
}
