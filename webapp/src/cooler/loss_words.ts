// Lots' ages, stages and losses in words.

import type { StageOf } from '../crop/losses'
import type { Stage } from '../crop/nouns'
import { decimal, listed, t } from '../messages/messages'

export function stageText(stages: readonly Stage[], untold: boolean): string {
  if (stages.length === 0) return t('stage.untold')
  const told = listed(stages.map((stage) => t(`stage.${stage}`)))
  return untold ? t('stage.partly', { stages: told }) : told
}

export function stageOfText(stage: StageOf): string {
  return stage === '' ? t('stage.untold') : t(`stage.${stage}`)
}

/** "season 2 in the ground", "seasons 1 and 3". */
export function agesText(ages: readonly number[]): string {
  const [only, ...more] = [...ages].sort((a, b) => a - b)
  if (only === undefined) return t('ages.not_known')
  return more.length === 0 ? t('season.in_ground', { age: only }) : t('ages.seasons', { ages: listed([only, ...more].map(String)) })
}

/** "1+3" as it is filed in losses. */
export function ageOfText(of: string): string {
  return agesText(of === '' ? [] : of.split('+').map(Number))
}

/** A share of a base in words: "4.1 %", or a dash where there is no base. */
export function shareText(part: number, base: number): string {
  return base <= 0 ? '–' : t('share', { percent: decimal((100 * part) / base, 1) })
}
