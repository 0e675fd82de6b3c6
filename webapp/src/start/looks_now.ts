// How much needs a look, wherever it is told: the same number in the bar and on the start page.

import { saleLooks } from '../crop/sale_looks'
import { clashesNow } from '../forecast/clashes_now'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'

export function looksNow({ looks, farm: { value: farm } }: Pick<Notebook, 'looks' | 'farm'>): number {
  return looks.value.length + farm.repeats.size + farm.plantLooks.length + saleLooks(farm, today.value).length + clashesNow.value.length
}
