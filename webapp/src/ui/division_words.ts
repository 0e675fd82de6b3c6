// What becomes of a plant, and why, in words.

import type { IntentDo } from '../crop/ahead_nouns'
import type { Hindrance } from '../crop/intents'
import { hindrances } from '../crop/intents'
import type { Farm } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import type { Why } from '../crop/why'
import { decimal, hasMessage, t } from '../messages/messages'
import { amount } from './money'
import { colourCalled } from './sale_words'

/** "Divide into 3", "Lift". */
export function doText({ do: what, into }: { readonly do: IntentDo; readonly into: number }): string {
  return what === 'divide' ? t('division.do.divide_into', { n: into }) : t(`division.do.${what}`)
}

/** A sentence for a reason, with its money where that is known here. */
export function whyText(farm: Farm, why: Why): string {
  const { code, age, times, cents, colour } = why
  const named = { colour: colour === undefined ? t('division.why.no_colour') : colourCalled(farm, colour), times: decimal(times ?? 0, 1), age: age ?? 0 }
  const money = cents === undefined ? undefined : amount(Math.round(cents) as Cents, farm.sales.terms.currency)
  switch (code) {
    case 'protected': case 'open_centre': case 'no_room': case 'no_time': case 'unseen': case 'even': case 'drifts': case 'by_hand':
      return t(`division.why.${code}`)
    case 'too_young':
      return t('division.why.too_young', named)
    case 'gives_most': case 'gives_little':
      return t(`division.why.${code}`, named)
    case 'colour_asked': case 'colour_wanted': case 'market_full':
      return t(`division.why.${code}`, named)
    case 'left_class':
      return colour === undefined ? t('division.why.left_class.none') : t('division.why.left_class', named)
    case 'colour_pays':
      return money === undefined ? t('division.why.colour_pays', named) : t('division.why.colour_pays.by', { ...named, amount: money })
    case 'pays': case 'keep_pays': case 'goal':
      return money === undefined ? t(`division.why.${code}`) : t(`division.why.${code}.by`, { amount: money })
  }
  const hindrance = code.replace(/^not\./, '')
  return code !== hindrance && isHindrance(hindrance) ? hindranceText(hindrance) : t('division.why.other', { code })
}

export function hindranceText(why: Hindrance): string {
  return t(`division.not.${why}`)
}

function isHindrance(text: string): text is Hindrance {
  return (hindrances as readonly string[]).includes(text)
}

/** "half as many again", "twice as many", or how many times. */
export function goalText(goal: number): string {
  const key = `division.goal.${Math.round(goal * 100)}`
  return hasMessage(key) ? t(key as 'division.goal.150') : t('division.goal.times', { times: decimal(goal, 2) })
}
