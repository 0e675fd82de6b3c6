// One plant of the plan: what becomes of it and why, what that brings, and deciding otherwise.

import { useState } from 'preact/hooks'
import type { IntentDo } from '../crop/ahead_nouns'
import { mayDivide } from '../crop/lineage'
import type { Cents } from '../crop/sale_nouns'
import { count, t } from '../messages/messages'
import { doText, whyText } from '../ui/division_words'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { placeName, swatchOf } from '../ui/words'
import type { Decided } from './decided'
import type { DivisionPlan } from './division_plan'

interface DecidedRowProps {
  readonly one: Decided
  readonly plan: DivisionPlan
  readonly most: number
}

export function DecidedRow({ one, plan, most }: DecidedRowProps) {
  const farm = useNotebook().farm.value
  const [changing, setChanging] = useState(false)
  const { plant } = one
  return (
    <li class="decided-row">
      <div class="who">
        <Head swatch={swatchOf(farm, plant)} size={36} />
        <a href={href('beds', 'plant', plant.id)}><b>{plant.code}</b><span class="small block">{placeName(plant)}</span></a>
        <button type="button" class="btn" aria-expanded={changing} onClick={() => setChanging(!changing)}>{doText(one)}<Icon name={changing ? 'up' : 'down'} /></button>
      </div>
      {changing && <Change one={one} plan={plan} most={most} onDone={() => setChanging(false)} />}
      <Reasons one={one} />
    </li>
  )
}

function Reasons({ one: { action, byHand } }: Pick<DecidedRowProps, 'one'>) {
  const farm = useNotebook().farm.value
  const told = (cents: number) => amount(Math.round(cents) as Cents, farm.sales.terms.currency)
  if (byHand) return <p class="small">{t('division.why.by_hand')} {t('division.planned_was', { what: doText({ do: action.do, into: action.into ?? 0 }) })}</p>
  const { value_cents: value, stems, gives_up_cents: less } = action
  return (
    <>
      {action.why.length > 0 && <p>{action.why.map((why) => whyText(farm, why)).join(' ')}</p>}
      <p class="small">
        {value.lo === value.hi ? t('division.value.sure', { amount: told(value.mean) }) : t('division.value', { amount: told(value.mean), lo: told(value.lo), hi: told(value.hi) })}
        {stems.hi > 0 && ` ${t('division.stems', { n: Math.round(stems.mean), lo: count(Math.round(stems.lo)), hi: count(Math.round(stems.hi)) })}`}
        {less > 0 && ` ${t('division.next_best', { amount: told(less) })}`}
      </p>
    </>
  )
}

const others: readonly IntentDo[] = ['keep', 'lift', 'replace']

function Change({ one, plan, most, onDone }: DecidedRowProps & { readonly onDone: () => void }) {
  const farm = useNotebook().farm.value
  const divisible = mayDivide(farm, one.plant) === 'yes'
  const ways = [...(divisible ? Array.from({ length: most - 1 }, (_, i) => ({ do: 'divide' as const, into: i + 2 })) : []), ...others.map((what) => ({ do: what, into: 0 }))]
  const decide = (way: (typeof ways)[number]) => {
    const { action } = one
    const asPlanned = way.do === action.do && way.into === (action.into ?? 0)
    void plan.decide(one.plant.id, asPlanned ? undefined : way)
    onDone()
  }
  return (
    <div class="choices" role="group" aria-label={t('division.change', { code: one.plant.code })}>
      {ways.map((way) => (
        <button key={`${way.do} ${way.into}`} type="button" class="btn" aria-pressed={way.do === one.do && way.into === one.into} onClick={() => decide(way)}>{doText(way)}</button>
      ))}
      {!divisible && <p class="small">{t('division.protected.text')}</p>}
    </div>
  )
}
