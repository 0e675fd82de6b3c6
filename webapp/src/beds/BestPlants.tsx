// Which counted plants are most likely among the best, and how much more they give.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { href } from '../ui/route'
import type { PlantWorth } from './ages_report'
import { lineFromZero } from './ages_scale'
import { inHundred, rangeText, times } from './ages_sentence'
import { IntervalTable } from './IntervalTable'

const first = 10

/** By the chance of being among the best tenth, then by how much they give. */
export function byChance(plants: readonly PlantWorth[]): PlantWorth[] {
  return [...plants].sort((a, b) => b.best_tenth - a.best_tenth || b.times.mean - a.times.mean)
}

export function bestHint(plants: readonly PlantWorth[]): string | undefined {
  const best = byChance(plants)[0]
  return best && t('ages.best.hint', { code: best.code, n: inHundred(best.best_tenth) })
}

export function BestPlants({ plants, hundred }: { readonly plants: readonly PlantWorth[]; readonly hundred: number }) {
  const [all, setAll] = useState(false)
  const sorted = byChance(plants)
  const shown = all ? sorted : sorted.slice(0, first)
  const rows = shown.map((one) => ({
    key: one.plant, interval: one.times, more: [<b key="chance">{inHundred(one.best_tenth)}</b>, extraOf(one)],
    name: <><a class="bed-link" href={href('beds', 'plant', one.plant)}>{one.code}</a> <span class="small">{t('ages.best.seasons', { n: one.seasons })}</span></>,
  }))
  return (
    <>
      {(sorted[0]?.best_tenth ?? 1) < 0.5 && <p>{t('ages.best.unsure')}</p>}
      <IntervalTable
        caption={t('ages.best.caption', { hundred })} nameHead={t('ages.best.plant')} valueHead={t('ages.best.times')}
        moreHeads={[t('ages.best.chance'), t('ages.best.extra')]}
        groups={[{ rows }]} line={lineFromZero(sorted.map((one) => one.times.hi))} mark={1} shown={times}
      />
      {sorted.length > first && (
        <button type="button" class="btn" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? t('ages.best.few') : t('ages.best.all', { n: sorted.length })}
        </button>
      )}
    </>
  )
}

function extraOf({ extra }: PlantWorth) {
  if (!extra) return <span class="small">{t('ages.untold')}</span>
  return <>{inHundred(extra.mean)} <span class="small">{rangeText(inHundred(extra.lo), inHundred(extra.hi))}</span></>
}
