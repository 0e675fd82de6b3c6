// The plan in a sentence.

import { type IntentDo } from '../crop/ahead_nouns'
import { listed, t } from '../messages/messages'
import { goalText } from '../ui/division_words'
import type { Counts } from './decided'
import type { DivisionAnswer } from './division_answer'
import type { Question } from './division_plan'

const saidOrder: readonly IntentDo[] = ['divide', 'replace', 'lift', 'keep']

/** "Divide **14**, replace 6, lift 3 and keep 97: **72 in 100** to reach half as many stems again in 2 seasons." */
export function planSentence(counts: Counts, { goal }: Pick<DivisionAnswer, 'goal'>, question: Pick<Question, 'goal' | 'seasons'>): string {
  const parts = saidOrder.flatMap((what) => (counts[what] === 0 ? [] : [t(`division.say.${what}`, { n: counts[what] })]))
  return t('division.say', {
    what: capital(listed(parts)), chance: chanceText(goal.chance), goal: goalText(question.goal), seasons: t('division.seasons', { n: question.seasons }),
  })
}

/** Of 100, as a person says it: never surely and never never. */
export function chanceText(chance: number): string {
  const hundred = Math.round(chance * 100)
  return hundred === 0 ? t('division.chance.low') : hundred === 100 ? t('division.chance.high') : t('division.chance', { n: hundred })
}

function capital(text: string): string {
  return text.charAt(0).toLocaleUpperCase() + text.slice(1)
}
