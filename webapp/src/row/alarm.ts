// The alarm of a record that was not kept: once for each failure, however often one leaves Row and comes
// back while its words still stand there.

import type { ReadonlySignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { alarmFeedback } from '../ui/feedback'

interface Failing {
  readonly failure: ReadonlySignal<unknown>
}

/** The failure that last sounded, of each walk: it outlives the screen that shows it. */
const sounded = new WeakMap<Failing, unknown>()

export function useAlarm(walk: Failing): void {
  const failure = walk.failure.value
  useEffect(() => soundOnce(walk), [failure])
}

export function soundOnce(walk: Failing): void {
  const failure = walk.failure.peek()
  if (failure !== undefined && failure !== sounded.get(walk)) alarmFeedback()
  sounded.set(walk, failure)
}
