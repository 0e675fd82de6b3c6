// What can wait until the rest stands on the screen: pictures beside an answer, which a slow phone draws for longer than it
// takes to answer.

import { useEffect, useState } from 'preact/hooks'

/** The value, one task later than it is told; before that the one before, undefined at first. */
export function useAfterwards<T>(value: T): T | undefined {
  const [shown, setShown] = useState<{ readonly value: T } | undefined>(undefined)
  useEffect(() => {
    const timer = setTimeout(() => setShown({ value }), 0)
    return () => clearTimeout(timer)
  }, [value])
  return shown?.value
}
