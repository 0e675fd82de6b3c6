// The clashes of promises as they stand, for every place that tells what needs a look. To serve all promises in every draw
// takes a phone some tenths of a second: it is done anew once nothing has changed for a while, and in small parts.

import { effect, signal } from '@preact/signals'
import type { Farm } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'
import { anyPromised, type Clash, clashes } from './clashes'
import { forecast } from './forecast'
import { promisesAsTaken } from './open_promises'
import { drawsOf } from './unpacked'

export const clashesNow = signal<readonly Clash[]>([])

/** Milliseconds: between two bunches of a tablet that packs, less passes. */
const quiet = 5_000

/** Follows a farm's promises and the forecast; the first look does not wait. Gives a way to stop. */
export function followClashes(notebook: Notebook): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined
  let seen: readonly unknown[] = []
  forecast.read(notebook)
  const stop = effect(() => {
    const { sales, ahead } = notebook.farm.value
    const now = [sales, ahead, forecast.answer.value, today.value]
    if (now.every((one, i) => one === seen[i])) return
    const first = seen.length === 0
    seen = now
    clearTimeout(timer)
    timer = setTimeout(function look() {
      const now = found(notebook.farm.peek())
      if (now === 'later') timer = setTimeout(look, 0)
      else clashesNow.value = now
    }, first ? 0 : quiet)
  })
  return () => { clearTimeout(timer); stop() }
}

/** Draws that are served between two taps: a few milliseconds of a slow phone. */
const atOnce = 20

function found(farm: Farm): readonly Clash[] | 'later' {
  const answer = forecast.answer.peek()
  const draws = answer && drawsOf(answer)
  if (!draws || !anyPromised(farm)) return []
  return promisesAsTaken(farm, draws, today.peek()).serveSome(atOnce) ? clashes(farm, draws, today.peek()) : 'later'
}
