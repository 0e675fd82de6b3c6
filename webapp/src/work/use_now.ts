// The moment by this device's own clock, drawn anew while something runs.

import { useEffect, useState } from 'preact/hooks'

const every = 5_000

export function useNow(runs: boolean): number {
  const [now, setNow] = useState(Date.now)
  useEffect(() => {
    if (!runs) return undefined
    const look = () => setNow(Date.now())
    look()
    const timer = setInterval(look, every)
    document.addEventListener('visibilitychange', look)
    return () => {
      clearInterval(timer)
      document.removeEventListener('visibilitychange', look)
    }
  }, [runs])
  return now
}
