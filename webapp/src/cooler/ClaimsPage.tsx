// Claims of buyers and what was lost of the cut, by what it may come from.

import { useMemo, useState } from 'preact/hooks'
import { addDays } from '../crop/day'
import { type Losses, losses } from '../crop/losses'
import type { Day, Farm } from '../crop/nouns'
import { seasonOf, span } from '../crop/season'
import type { Claim } from '../crop/sale_nouns'
import { count, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { ClaimRow } from './ClaimRow'
import { LossTables } from './LossTables'
import { shareText } from './loss_words'
import { PackedLines } from './PackedLines'

type Period = 'month' | 'season' | 'all'

const shownAtFirst = 20

export function ClaimsPage() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const [period, setPeriod] = useState<Period>('season')
  const from = firstDay(farm, period, today.value)
  const lost = useMemo(() => losses(farm, from, today.value), [farm.lots, farm.sales, farm.groundVersion, from, today.value])
  return (
    <div class="cooler">
      <PageHead title={t('claims.title')} back={href('shed', 'cooler')} />
      <div class="page">
        <div class="columns">
          <div>
            <Choice name={t('claims.period')} value={period} onChoose={setPeriod} options={[['month', t('claims.period.month')], ['season', t('claims.period.season')], ['all', t('claims.period.all')]]} />
            <Lead lost={lost} />
            <LossTables farm={farm} lost={lost} />
          </div>
          <div>
            {may.manage ? <PackedLines farm={farm} /> : <p class="note">{t('claims.owner')}</p>}
            <ClaimList claims={latest(farm)} />
          </div>
        </div>
      </div>
    </div>
  )
}

function Lead({ lost: { whole } }: { readonly lost: Losses }) {
  if (whole.cut === 0) return <Say text={t('losses.none')} />
  const args = { cut: count(whole.cut), shrink: shareText(whole.shrink, whole.cut), packed: count(whole.packed), claimed: shareText(whole.claimed, whole.packed) }
  return <Say text={whole.packed === 0 ? t('losses.say.cut', args) : t('losses.say', args)} />
}

function ClaimList({ claims }: { readonly claims: readonly Claim[] }) {
  const [all, setAll] = useState(false)
  const doing = useUndoable()
  const shown = all ? claims : claims.slice(0, shownAtFirst)
  return (
    <section>
      <h2>{t('claims.list', { n: claims.length })}</h2>
      <UndoNote {...doing} />
      {claims.length === 0 && <p class="small">{t('claims.none')}</p>}
      <ul class="rows">{shown.map((claim) => <ClaimRow key={claim.id} claim={claim} doing={doing} />)}</ul>
      {shown.length < claims.length && <button type="button" class="btn" onClick={() => setAll(true)}>{t('claims.all', { n: claims.length })}</button>}
    </section>
  )
}

function latest({ sales }: Farm): Claim[] {
  return [...sales.claims.values()].sort((a, b) => (a.date < b.date ? 1 : a.date > b.date ? -1 : a.id < b.id ? -1 : 1))
}

function firstDay({ calendar }: Farm, period: Period, day: Day): Day {
  if (period === 'month') return addDays(day, -29)
  return period === 'season' ? span(calendar, seasonOf(calendar, day)).from : ('0001-01-01' as Day)
}
