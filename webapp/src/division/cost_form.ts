// What divisions cost as it is typed: money as amounts, all else as whole numbers.

import { type DivisionCosts, mostPlantMinutes, mostStanding, usualCosts } from '../crop/ahead_nouns'
import type { Cents } from '../crop/sale_nouns'
import { parseAmount, typedAmount } from '../ui/money'
import { wholeFrom } from '../ui/whole_number'

export type Cost = keyof DivisionCosts
export type CostForm = Readonly<Record<Cost, string>>

/** In the order of the form. */
export const costsTyped: readonly Cost[] = ['hour', 'divide', 'lift', 'set', 'plug', 'ground', 'standing']

export function isMoney(cost: Cost): boolean {
  return cost === 'hour' || cost === 'plug' || cost === 'ground'
}

export function costTyped(cost: Cost, n: number): string {
  return isMoney(cost) ? typedAmount(n as Cents) : String(n)
}

export function costForm(costs: DivisionCosts): CostForm {
  return Object.fromEntries(costsTyped.map((cost) => [cost, costTyped(cost, costs[cost])])) as CostForm
}

/** The costs that are not as before, or the fields that hold none. An empty field is the usual cost. */
export function readCostForm(form: CostForm, before: DivisionCosts): { readonly costs: Partial<DivisionCosts> } | { readonly problems: readonly Cost[] } {
  const read = costsTyped.map((cost) => [cost, costFrom(cost, form[cost])] as const)
  const problems = read.filter(([, n]) => n === undefined).map(([cost]) => cost)
  if (problems.length > 0) return { problems }
  return { costs: Object.fromEntries(read.filter(([cost, n]) => n !== before[cost])) }
}

function costFrom(cost: Cost, text: string): number | undefined {
  if (text.trim() === '') return usualCosts[cost]
  return isMoney(cost) ? parseAmount(text) : wholeFrom(text, 0, cost === 'standing' ? mostStanding : mostPlantMinutes)
}
