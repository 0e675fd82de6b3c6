// Asks the shed anew for what it works out, where what it said last is older than what this device holds.

import { useEffect, useRef } from 'preact/hooks'
import type { Notebook } from '../sync/notebook'
import { useNotebook } from './notebook'
import type { ShedAnswer } from './shed_answer'

interface Asking {
  readonly shed: Pick<ShedAnswer<unknown>, 'fetching'> & { readonly refresh: (notebook: Notebook) => Promise<void> }
  /** What the device holds, in a text that changes with it. */
  readonly said: string
  /** What is shown cannot be of it. */
  readonly outdated: boolean
  /** Whether the shed is asked once in any case. */
  readonly onOpening: boolean
}

export function useAskedAnew({ shed, said, outdated, onOpening }: Asking): void {
  const notebook = useNotebook()
  const { link, pending, sent } = notebook.sync.value
  // The shed can have what was put right here once nothing waits to be sent.
  const level = link === 'live' && pending === 0 && sent === 0
  const saidBefore = useRef(onOpening ? undefined : said)
  // An answer that is on its way may not know of it yet: then it is asked again afterwards.
  const wanted = useRef(false)
  const asking = shed.fetching.value === 'yes'
  useEffect(() => {
    if (!level || (!outdated && said === saidBefore.current)) return
    saidBefore.current = said
    wanted.current = true
  }, [level, said])
  useEffect(() => {
    if (!level || asking || !wanted.current) return
    wanted.current = false
    void shed.refresh(notebook)
  }, [level, said, asking])
}
