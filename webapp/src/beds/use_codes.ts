// How many plants can be given a tag code here, with more asked for from the shed where they are too few.

import { useEffect, useState } from 'preact/hooks'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import { blockSize } from '../crop/tag_code'
import { codesLeft, keepCodes } from './codes'

export interface CodesAtHand {
  readonly left: number
  /** The shed is being asked for more. */
  readonly asking: boolean
}

export function useCodes(wanted: number): CodesAtHand {
  const notebook = useNotebook()
  const reached = inReach(notebook.sync.value)
  const left = codesLeft(notebook)
  const [asking, setAsking] = useState(false)
  useEffect(() => {
    if (!reached || left >= wanted) return
    setAsking(true)
    // A block more, since codes that plants have already are passed over.
    void keepCodes(notebook, wanted + blockSize).then(() => setAsking(false))
  }, [reached, left >= wanted])
  return { left, asking }
}
