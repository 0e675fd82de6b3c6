// The answer to what is typed, at once; and what would help, one try after the other once that is on the screen.

import { useEffect, useMemo, useState } from 'preact/hooks'
import type { Day, Farm } from '../crop/nouns'
import { type Answer, answerTo, askAhead, type Asked, changesOf, type Help, helpOf, type Kinds, type Told } from '../forecast/asking'
import { weeksComing } from '../forecast/coming'
import type { Draws } from '../forecast/draws'
import { openPromises } from '../forecast/open_promises'
import { daysWithinATap, whenChoices } from './ask_when'

/** Draws that are served between two taps: a few milliseconds of a slow phone. */
const atOnce = 20

/** Serves the promises of every draw while one still types, and then asks for every day within a tap, so that a tap finds its answer. */
export function useAskedAhead(farm: Farm, draws: Draws | undefined, today: Day, { colours, grade, length }: Kinds): void {
  useEffect(() => {
    if (!draws) return undefined
    let days: Day[] | undefined
    let timer = setTimeout(function some() {
      if (openPromises(farm, draws, today).serveSome(atOnce)) {
        days ??= daysWithinATap(whenChoices(weeksComing(draws), today), today)
        const day = days.shift()
        if (day === undefined) return
        askAhead(farm, draws, today, { colours, grade, length }, day)
      }
      timer = setTimeout(some, 0)
    }, 0)
    return () => clearTimeout(timer)
  }, [farm.sales, farm.lots, draws, today, grade, length, colours.join()])
}

export function useAnswer(farm: Farm, draws: Draws, today: Day, asked: Asked | undefined): Answer | undefined {
  return useMemo(() => asked && answerTo(farm, draws, today, asked), [farm.sales, farm.lots, draws, today, keyOf(asked)])
}

/** The best first; undefined while they are still being tried. */
export function useHelps(farm: Farm, draws: Draws, today: Day, asked: Asked | undefined, told: Told | undefined, bunch: number): readonly Help[] | undefined {
  const [helps, setHelps] = useState<readonly Help[] | undefined>(undefined)
  useEffect(() => {
    setHelps(undefined)
    if (!asked || !told) return undefined
    const waiting = changesOf(asked, draws)
    const found: Help[] = []
    let timer = setTimeout(function next() {
      const change = waiting.shift()
      if (!change) return setHelps(found.sort((a, b) => b.safe - a.safe))
      const help = helpOf(farm, draws, today, { asked, told, change, bunch })
      if (help) found.push(help)
      timer = setTimeout(next, 0)
    }, 0)
    return () => clearTimeout(timer)
  }, [told, bunch])
  return helps
}

/** A number of stems does not matter to what can be had: only to what is said of it. */
function keyOf(asked: Asked | undefined): string {
  return asked ? [asked.from, asked.due, asked.grade, asked.length, ...asked.colours].join() : ''
}
