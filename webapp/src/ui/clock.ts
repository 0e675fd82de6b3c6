// The moment, by the shed's clock where the phone was told how far its own is off.

import { useEffect, useState } from 'preact/hooks'
import type { Notebook } from '../sync/notebook'

/** Now, in ms since 1970. Subscribes to what the shed says of this phone's clock. */
export function nowOf(notebook: Notebook): number {
  return Date.now() + (notebook.sync.value.clockOffset ?? 0)
}

/** A timer may wait 24.8 days at most; and a clock that is set meanwhile is noticed. */
const longestWait = 60_000

/** Calls back once the time told by `now` has reached a moment; the returned function calls it off. */
export function atMoment(moment: number, now: () => number, then: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined
  const look = () => {
    const left = moment - now()
    if (left <= 0) then()
    else timer = setTimeout(look, Math.min(left, longestWait))
  }
  look()
  return () => clearTimeout(timer)
}

/** Draws a component anew when a moment has come, also after a sleep of the phone. */
export function useMoment(notebook: Notebook, moment: number | undefined): void {
  const [, draw] = useState(0)
  const offset = notebook.sync.value.clockOffset
  useEffect(() => {
    if (moment === undefined) return undefined
    const again = () => draw((n) => n + 1)
    const callOff = atMoment(moment, () => nowOf(notebook), again)
    document.addEventListener('visibilitychange', again)
    return () => {
      callOff()
      document.removeEventListener('visibilitychange', again)
    }
  }, [moment, offset])
}
