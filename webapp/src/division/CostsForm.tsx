// What work, plugs and ground cost the farm: the owner's, each as usual until told otherwise.

import { useState } from 'preact/hooks'
import { divisionCostFacts } from '../crop/ahead_facts'
import { mostPlantMinutes, mostStanding, usualCosts } from '../crop/ahead_nouns'
import type { Cents } from '../crop/sale_nouns'
import { count, t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { type Cost, costForm, costsTyped, costTyped, isMoney, readCostForm } from './cost_form'

export function CostsForm() {
  const { costs } = useNotebook().farm.value.ahead
  const doing = useUndoable()
  const [form, setForm] = useState(() => costForm(costs))
  const [problems, setProblems] = useState<readonly Cost[]>([])
  const tell = (cost: Cost, text: string) => {
    setForm({ ...form, [cost]: text })
    setProblems(problems.filter((one) => one !== cost))
  }
  const save = async (event: Event) => {
    event.preventDefault()
    const read = readCostForm(form, costs)
    if ('problems' in read) return setProblems(read.problems)
    if (await doing.act((farm) => ({
      facts: divisionCostFacts(farm, read.costs), undo: divisionCostFacts(farm, farm.ahead.costs), said: t('division.costs.saved'),
    }))) setForm(costForm({ ...costs, ...read.costs }))
  }
  const takeBack = async () => {
    await doing.undo()
    setForm(costForm(costs))
  }
  return (
    <form class="person-form costs" noValidate onSubmit={(event) => void save(event)}>
      <div class="cost-fields">
        {costsTyped.map((cost) => <CostField key={cost} cost={cost} typed={form[cost]} wrong={problems.includes(cost)} onType={(text) => tell(cost, text)} />)}
      </div>
      {problems.map((cost) => <p key={cost} class="note stop" role="alert">{problemText(cost)}</p>)}
      <button type="submit" class="btn">{t('division.costs.save')}</button>
      <UndoNote {...doing} undo={takeBack} />
    </form>
  )
}

function problemText(cost: Cost): string {
  const what = t(`division.costs.${cost}`)
  return isMoney(cost) ? t('division.costs.problem.money', { what }) : t('division.costs.problem.whole', { what, most: cost === 'standing' ? mostStanding : mostPlantMinutes })
}

interface CostFieldProps {
  readonly cost: Cost
  readonly typed: string
  readonly wrong: boolean
  readonly onType: (text: string) => void
}

function CostField({ cost, typed, wrong, onType }: CostFieldProps) {
  const { currency } = useNotebook().farm.value.sales.terms
  const usual = usualCosts[cost]
  const told = isMoney(cost) ? amount(usual as Cents, currency) : count(usual)
  const isUsual = typed.trim() === costTyped(cost, usual)
  const name = t(`division.costs.${cost}`)
  return (
    <div class="cost-field">
      <label class="field">
        <span>{name}</span>
        <input inputMode={isMoney(cost) ? 'decimal' : 'numeric'} autocomplete="off" maxLength={10} value={typed} aria-invalid={wrong} onInput={(event) => onType(event.currentTarget.value)} />
      </label>
      {isUsual
        ? <p class="small">{t('division.costs.usual', { usual: told })}</p>
        : <button type="button" class="btn quiet" aria-label={t('division.costs.back.to', { what: name, usual: told })} onClick={() => onType(costTyped(cost, usual))}>{t('division.costs.back', { usual: told })}</button>}
    </div>
  )
}
