// An answer off a shelf while a page shows it: asked anew whenever the question or the link is another.

import { signal } from '@preact/signals'
import { useEffect, useState } from 'preact/hooks'
import type { Season } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Asking, Shelf, Shelved } from './shelf'

/** Whose books are open; none is the present season, or the latest that has any. */
export const seasonOpen = signal<Season | undefined>(undefined)

export interface Seen<A> {
  readonly found: Shelved<A> | undefined
  readonly asking: Asking
  readonly retry: () => void
}

export function useShelf<A>(shelf: Shelf<A>, query: string): Seen<A> {
  const notebook = useNotebook()
  const live = inReach(notebook.sync.value)
  const [tries, setTries] = useState(0)
  useEffect(() => shelf.read(notebook), [])
  useEffect(() => {
    if (!live) return
    const looking = new AbortController()
    void shelf.ask(notebook, query, looking.signal)
    return () => looking.abort()
  }, [live, query, tries])
  return { found: shelf.find(query), asking: live ? shelf.asking.value : 'no', retry: () => setTries((n) => n + 1) }
}

/** Of when it is what is shown, and whether the shed is being asked for newer. */
export function whence({ found, asking }: Seen<unknown>): string {
  if (!found) return ''
  const day = dayName(found.day, today.value)
  return asking === 'yes' || asking === 'slow' ? t('ages.asof.asking', { day }) : t('ages.asof', { day })
}
