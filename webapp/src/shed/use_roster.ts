// The roster as the shed last told it, asked anew while the page is looked at.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { Problem } from '../join/problem'
import { askRoster, type Roster } from '../join/roster'

export interface AskedRoster {
  /** Stands while the shed cannot be asked; undefined until it was. */
  readonly roster: Roster | undefined
  readonly problem: Problem | undefined
  askAgain(): Promise<void>
}

export function useRoster(everyMs: number): AskedRoster {
  const [roster, setRoster] = useState<Roster | undefined>(undefined)
  const [problem, setProblem] = useState<Problem | undefined>(undefined)
  const last = useRef(0)
  const askAgain = async () => {
    const turn = ++last.current
    const answer = await askRoster()
    if (turn !== last.current) return // an answer that was overtaken
    setProblem(answer.kind === 'ok' ? undefined : answer)
    if (answer.kind === 'ok') setRoster(answer.value)
  }
  useEffect(() => {
    void askAgain()
    const timer = setInterval(() => {
      if (document.visibilityState === 'visible') void askAgain()
    }, everyMs)
    return () => {
      clearInterval(timer)
      last.current++
    }
  }, [everyMs])
  return { roster, problem, askAgain }
}
