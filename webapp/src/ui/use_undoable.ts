// Doing something and taking it back: what is said was stored, and its undo is offered as long as the page is open.

import { useRef, useState } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import type { Fact } from '../log/change'
import { t } from '../messages/messages'
import type { Notebook, Said } from '../sync/notebook'
import { announce } from './announce'
import { useNotebook } from './notebook'
import { failureText } from './words'

export interface Undoing {
  readonly facts: readonly Fact[]
  /** What this device keeps with it. */
  readonly alongside?: Said['alongside']
  /** What takes it back, or what plans that from how things stand by then. */
  readonly undo: readonly Fact[] | (() => Said)
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
  /** Says no longer what was done: something else was since. */
  readonly forget: () => void
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
      await notebook.recordInTurn(() => undoing(done?.undo ?? []))
      return undefined
    }, t('lineage.undone'))
  }
  const forget = () => {
    setDone(undefined)
    setProblem('')
  }
  return { done, problem, act, undo, forget }
}

function undoing(undo: Undoing['undo']): Said {
  return typeof undo === 'function' ? undo() : { facts: undo, alongside: {} }
}

async function store(notebook: Notebook, plan: (farm: Farm) => Undoing | string): Promise<Undoing | string> {
  let planned: Undoing | string = ''
  await notebook.recordInTurn(() => {
    planned = plan(notebook.farm.peek())
    return typeof planned === 'string' ? { facts: [], alongside: {} } : { facts: planned.facts, alongside: planned.alongside ?? {} }
  })
  return planned
}
