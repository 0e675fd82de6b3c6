// When the start page comes first: at a device's first opening of a day, and in the morning of one that was never closed.

import { useLayoutEffect } from 'preact/hooks'
import type { Day } from '../crop/nouns'
import { useNotebook } from '../ui/notebook'
import { href, route } from '../ui/route'
import { today } from '../ui/today'

const kept = 'start.day'

/** A page deeper than a place's first was asked for, or somebody is in the middle of it: it stays. */
export function opensFirst(openedOn: Day | undefined, day: Day, at: readonly string[]): boolean {
  return openedOn !== day && at.length <= 1 && at[0] !== 'join'
}

/** Before the first drawing, so that no other page is seen for a moment. */
export function useMorning(): void {
  const notebook = useNotebook()
  const day = today.value
  useLayoutEffect(() => {
    const openedOn = notebook.kept<Day>(kept)
    if (openedOn === day) return
    if (opensFirst(openedOn, day, route.peek())) {
      history.replaceState(null, '', href('start'))
      route.value = ['start']
    }
    notebook.keep(kept, day).catch((reason: unknown) => console.error('keeping that the day was opened', reason)) // then it opens so once more
  }, [day])
}
