// What is safe to offer, week by week as it is found, so that the page can be read and left meanwhile.

import { useEffect, useState } from 'preact/hooks'
import type { Day, Farm } from '../crop/nouns'
import type { Draws } from '../forecast/draws'
import { type OfferRule, safeOffers, type WeekOffers } from './weeks_offers'

export interface Finding {
  readonly weeks: readonly WeekOffers[]
  readonly done: boolean
}

const atFirst: Finding = { weeks: [], done: false }

export function useSafeOffers(farm: Farm, draws: Draws, today: Day, weeks: number, rules: readonly OfferRule[]): Finding {
  const [found, setFound] = useState<Finding>(atFirst)
  useEffect(() => {
    const offers = safeOffers(farm, draws, today, weeks, rules)
    const told: WeekOffers[] = []
    setFound(atFirst)
    let timer = setTimeout(function next() {
      const { value, done } = offers.next()
      if (value) told.push(value)
      setFound({ weeks: [...told], done: done === true })
      if (done !== true) timer = setTimeout(next, 0)
    }, 0)
    return () => clearTimeout(timer)
  }, [farm.sales, farm.lots, farm.colours, draws, today, weeks, rules.map(({ id }) => id).join('|')])
  return found
}
