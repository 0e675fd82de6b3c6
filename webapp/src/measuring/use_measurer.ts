// The worker that measures, for as long as a page shows what comes of it.

import { useEffect, useRef, useState } from 'preact/hooks'
import { type Measurer, openMeasurer } from './measurer'

export interface MeasurerAtHand {
  readonly measurer: Measurer | undefined
  /** Leaves what is being measured: the worker ends, and another one starts. */
  readonly leave: () => void
}

export function useMeasurer(): MeasurerAtHand {
  const [measurer, setMeasurer] = useState<Measurer | undefined>(undefined)
  const open = useRef<Measurer | undefined>(undefined)
  const start = () => {
    open.current?.close()
    open.current = openMeasurer()
    setMeasurer(open.current)
  }
  useEffect(() => {
    start()
    return () => open.current?.close()
  }, [])
  return { measurer, leave: start }
}
