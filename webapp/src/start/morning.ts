// When the start page comes first: at a device's first opening of a day, and in the morning of one that was never closed.

import { useLayoutEffect, useRef } from 'preact/hooks'
import type { Day } from '../crop/nouns'
import { useNotebook } from '../ui/notebook'
import { href, route } from '../ui/route'
import { today } from '../ui/today'

const kept = 'start.day'

/** Where the app was opened, which may be where it was left days ago. */
const openedAt = route.peek()

/**
 * A page deeper than a place's first was asked for, or somebody is in the middle of it: it stays; so does one that somebody
 * went to while the app was opening.
 */
export function opensFirst(openedOn: Day | undefined, day: Day, at: readonly string[], wentThere: boolean): boolean {
  return openedOn !== day && !wentThere && at.length <= 1 && at[0] !== 'join'
}

/** Before the first drawing, so that no other page is seen for a moment. */
export function useMorning(): void {
  const notebook = useNotebook()
  const day = today.value
  const opening = useRef(true)
  useLayoutEffect(() => {
    const wentThere = opening.current && route.peek() !== openedAt && route.peek()[0] !== 'start'
    opening.current = false
    const openedOn = notebook.kept<Day>(kept)
    if (openedOn === day) return
    if (opensFirst(openedOn, day, route.peek(), wentThere)) {
      history.replaceState(null, '', href('start'))
      route.value = ['start']
    }
    notebook.keep(kept, day).catch((reason: unknown) => console.error('keeping that the day was opened', reason)) // then it opens so once more
  }, [day])
}
