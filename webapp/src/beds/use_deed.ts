// Doing something to plants and taking it back: what is said was stored, and its undo is offered as long as
// the page is open.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { Deed } from '../crop/deed'
import { undoing } from '../crop/lineage'
import type { Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'
import { mintCodes } from './codes'

/** Why something cannot be done here and now, in words for a person. */
export class Hindered extends Error {
  constructor(text: string) {
    super(text)
    this.name = 'Hindered'
  }
}

export interface Planned {
  readonly deed: Deed
  readonly alongside?: Readonly<Record<string, unknown>>
  /** What is said once it is stored. */
  readonly said: string
}

export interface Doing {
  /** What was done last and was not taken back. */
  readonly done: Planned | undefined
  readonly problem: string
  /** Plans from the farm as it stands when its turn to be stored comes, and stores it. */
  readonly act: (plan: (farm: Farm) => Planned) => Promise<void>
  readonly undo: () => Promise<void>
}

export function useDeed(): Doing {
  const notebook = useNotebook()
  const [done, setDone] = useState<Planned | undefined>(undefined)
  const [problem, setProblem] = useState('')
  // A second tap, before the first is seen to be done, would do it twice.
  const busy = useRef(false)
  useEffect(() => { busy.current = false }, [done])
  const attempt = async (what: () => Promise<Planned | undefined>, said: (planned: Planned | undefined) => string) => {
    if (busy.current) return
    busy.current = true
    try {
      const planned = await what()
      setDone(planned)
      setProblem('')
      announce(said(planned))
    } catch (reason) {
      busy.current = false
      setProblem(reason instanceof Hindered ? reason.message : failureText(reason))
    }
  }
  const act = (plan: (farm: Farm) => Planned) => attempt(() => record(notebook, plan), (planned) => planned?.said ?? '')
  const undo = () => attempt(async () => {
    await notebook.recordInTurn(() => ({ facts: done ? undoing(notebook.farm.peek(), done.deed) : [], alongside: {} }))
    return undefined
  }, () => t('lineage.undone'))
  return { done, problem, act, undo }
}

async function record(notebook: Notebook, plan: (farm: Farm) => Planned): Promise<Planned> {
  let planned: Planned | undefined
  await notebook.recordInTurn(() => {
    planned = plan(notebook.farm.peek())
    return { facts: planned.deed.facts, alongside: planned.alongside ?? {} }
  })
  if (!planned) throw new Error('storing what was done: it was never its turn')
  return planned
}

/** Codes for so many new plants; where this device has too few, that is said. */
export function codesFor(notebook: Notebook, farm: Farm, wanted: number): NonNullable<ReturnType<typeof mintCodes>> {
  const minted = mintCodes(notebook, farm, wanted)
  if (!minted) throw new Hindered(t('lineage.codes.few', { n: wanted }))
  return minted
}
