// A long list is drawn as far as a screen reaches at first, and the rest once that is seen.

import { useEffect, useState } from 'preact/hooks'

const atFirst = 40

/** How many of a list to draw. */
export function useGrowing(all: number): number {
  const [drawn, setDrawn] = useState(atFirst)
  useEffect(() => {
    if (drawn >= all) return undefined
    const timer = setTimeout(() => setDrawn(all), 60)
    return () => clearTimeout(timer)
  }, [drawn, all])
  return Math.min(drawn, all)
}
