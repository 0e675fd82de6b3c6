// The reasons of a proposal in words.

import { protectedStock } from '../crop/lineage'
import type { Farm, FlagKind } from '../crop/nouns'
import { t } from '../messages/messages'
import { inHundred } from './ages_sentence'
import type { Proposal, Stems, Why } from './colour_lists'
import { className, classText, partsText, tenth, toldParts } from './colour_words'

export function reasonWords(farm: Farm, one: Proposal, why: Why): string {
  switch (why) {
    case 'class':
    case 'class_other':
    case 'class_eye':
    case 'class_only_eye':
      return t(`lists.why.${why}`, { name: className(farm, one.class?.colour) })
    case 'between':
      return classText(farm, one.class)
    case 'steady': {
      const seen = one.measured?.judged?.shift?.noticeable
      return seen == null ? t('lists.why.steady') : t('lists.why.steady.seen', { n: tenth(seen) })
    }
    case 'drift': {
      const shift = one.measured?.judged?.shift
      const parts = shift ? partsText(toldParts(shift)) : ''
      return parts === '' ? t('lists.why.drift') : t('lists.why.drift.how', { parts })
    }
    case 'stems_many':
    case 'stems_middle':
    case 'stems_few':
      return stemsWords(one.stems)
    case 'age':
      return t('lists.why.age', { age: one.age })
    case 'protected':
      return t('lists.why.protected', { stock: protectedStock(farm, one.plant)?.name ?? t('stock.unknown') })
    default:
      return why.startsWith('flag_') ? t('lists.why.flag', { flag: t(`flag.${why.slice(5) as FlagKind}`) }) : t(`lists.why.${why as PlainWhy}`)
  }
}

type PlainWhy = 'class_none' | 'class_unknown' | 'unmeasured' | 'watch' | 'first_season' | 'cannot_tell' | 'uncounted' | 'weak' | 'origin_unknown' | 'reference'

/** "more stems than 7 of 10 of its age (2026)". */
function stemsWords(stems: Stems | undefined): string {
  if (!stems) return t('lists.why.uncounted')
  const { standing, season, worth, level } = stems
  if (!standing || standing.kind === 'few') return t(`lists.why.model.${level}`, { hundred: inHundred(worth?.best_tenth ?? 0) })
  const told = { season: String(season ?? '') }
  if (level === 'middle') return t('lists.why.stems.middle', told)
  return 'ofTen' in standing ? t(`lists.why.stems.${standing.kind}`, { ...told, n: standing.ofTen }) : t(`lists.why.stems.${standing.kind}`, told)
}
