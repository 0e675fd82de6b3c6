// The clashes of promises as they stand, for every place that tells what needs a look. To serve all promises in every draw
// takes a phone some tenths of a second: it is done anew once nothing has changed for a while, and in small parts.

import { effect, signal } from '@preact/signals'
import type { Day, Farm } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'
import { anyPromised, type Clash, clashes } from './clashes'
import { forecast, type ForecastAnswer } from './forecast'
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
    const now = restOn(notebook.farm.value, forecast.answer.value, today.value)
    if (now.every((one, i) => one === seen[i])) return
    const first = seen.length === 0
    seen = now
    clearTimeout(timer)
    timer = setTimeout(function look() {
      const found = someOf(notebook.farm.peek(), forecast.answer.peek(), today.peek())
      if (found === 'later') timer = setTimeout(look, 0)
      else clashesNow.value = found
    }, first ? 0 : quiet)
  })
  return () => { clearTimeout(timer); stop() }
}

/** What clashes rest on: they are the same for as long as each of these is the same object. */
function restOn({ sales, lots, ahead }: Farm, answer: ForecastAnswer | undefined, day: Day): readonly unknown[] {
  return [sales, lots, ahead, answer, day]
}

/** Draws that are served between two taps: a few milliseconds of a slow phone. */
const atOnce = 20

/** The clashes, or that more draws are to be unpacked or served before they are known: then it is to be asked again. */
export function someOf(farm: Farm, answer: ForecastAnswer | undefined, day: Day): readonly Clash[] | 'later' {
  const draws = answer && anyPromised(farm) ? drawsOf(answer) : 'unreadable' // to unpack them takes a phone a while
  if (draws === 'unpacking') return 'later'
  if (draws === 'unreadable') return []
  return promisesAsTaken(farm, draws, day).serveSome(atOnce) ? clashes(farm, draws, day) : 'later'
}
