// What a broken promise costs the farm, from which follow the odds that it goes by. Only owners see it.

import { breakCostFacts } from '../crop/ahead_facts'
import { usualBreakCost } from '../crop/ahead_nouns'
import { keepChance } from '../forecast/asking'
import { sureInHundred } from '../forecast/forecast_words'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'

/** Percent of the stems' price: odds of a half, four in five, nine in ten and nineteen in twenty. */
const costs: readonly number[] = [100, 400, usualBreakCost, 1900]

export function OwnOdds() {
  const farm = useNotebook().farm.value
  const doing = useUndoable()
  const now = farm.sales.terms.breakCost || usualBreakCost
  const choices = [...new Set([...costs, now])].sort((a, b) => a - b)
  const choose = (cost: number) => void doing.act(({ sales }) => ({
    facts: breakCostFacts(farm, cost), undo: breakCostFacts(farm, sales.terms.breakCost), said: t('promise.odds.said', { chance: chanceAt(cost) }),
  }))
  return (
    <details class="ask-least">
      <summary><span>{t('promise.odds')}</span> <b>{t('promise.odds.now', { chance: chanceAt(now) })}</b></summary>
      <p class="small">{t('promise.odds.say')}</p>
      <Choice name={t('promise.odds.cost')} value={String(now)} options={choices.map((cost) => [String(cost), t('promise.odds.times', { n: cost / 100 })] as const)} onChoose={(cost) => choose(Number(cost))} />
      <UndoNote {...doing} />
    </details>
  )
}

function chanceAt(breakCost: number): string {
  return String(sureInHundred(keepChance({ breakCost })))
}
