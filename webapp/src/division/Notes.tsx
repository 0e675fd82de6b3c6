// What whoever reads a plan should know of it.

import type { Farm } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { colourCalled } from '../ui/sale_words'
import { type Decided, placesOf } from './decided'
import type { DivisionAnswer, DivisionNote } from './division_answer'
import { chanceText } from './division_sentence'

export function Notes({ notes }: { readonly notes: readonly DivisionNote[] }) {
  const farm = useNotebook().farm.value
  const said = notes.filter(({ code }) => code !== 'protected') // which has a part of its own
  const grave = said.filter(isGrave)
  const others = said.filter((note) => !isGrave(note))
  return (
    <>
      {grave.length > 0 && <div class="note warn">{grave.map((note, i) => <p key={i}>{noteText(farm, note)}</p>)}</div>}
      {others.length > 0 && <details><summary>{t('division.notes', { n: others.length })}</summary><ul class="reasons">{others.map((note, i) => <li key={i}>{noteText(farm, note)}</li>)}</ul></details>}
    </>
  )
}

function isGrave({ code }: DivisionNote): boolean {
  return code === 'goal_out_of_reach' || code === 'goal_less_sure' || code === 'no_price' || code === 'no_class' || code === 'market_open' || code === 'ask_outside'
}

export function noteText(farm: Farm, { code, stock, colour, plants = 0, stems = 0, chance = 0 }: DivisionNote): string {
  switch (code) {
    case 'stock_unseen':
      return t('division.note.stock_unseen', { n: plants, stock: (stock && farm.stocks.get(stock)?.name) ?? '' })
    case 'season_runs': case 'market_open':
      return t(`division.note.${code}`)
    case 'no_price':
      return t('division.note.no_price', { n: plants, colour: colourCalled(farm, colour ?? '') })
    case 'goal_out_of_reach':
    case 'goal_less_sure':
      return t(`division.note.${code}`, { chance: chanceText(chance) })
    case 'no_class':
      return t('division.note.no_class', { n: plants })
    case 'ask_outside':
      return t('division.note.ask_outside', { n: stems })
    case 'own_divisions':
      return t('division.note.own_divisions', { n: plants })
  }
  return t('division.note.other', { code })
}

/** That numbers are of the shed's plan, where something of it was changed by hand. */
export function HandNote({ answer, decided }: { readonly answer: DivisionAnswer; readonly decided: readonly Decided[] }) {
  const byHand = decided.filter((one) => one.byHand).length
  const gone = answer.actions.length - decided.length
  if (byHand === 0 && gone === 0) return null
  return (
    <div class="note">
      {byHand > 0 && <p>{t('division.by_hand', { n: byHand, places: count(placesOf(decided)) })}</p>}
      {gone > 0 && <p>{t('division.gone', { n: gone })}</p>}
    </div>
  )
}
