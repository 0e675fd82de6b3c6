// A row for each line of the day: who gets how many bunches of what, and on a tap of what they are made and what to ask of
// the plan.

import { useState } from 'preact/hooks'
import type { LineID } from '../crop/sale_nouns'
import { count, t } from '../messages/messages'
import { inReach } from '../sync/reach'
import { Head } from '../ui/Head'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { buyerWritten } from '../ui/lot_words'
import type { DueLine } from './due_lines'
import type { PackingAnswer, PlannedLine } from './packing_answer'
import { drawnWritten, kindWritten, swatchOfLine } from './packing_words'
import { type DayPlan, wishing } from './plans'

interface PlanLinesProps {
  readonly lines: readonly DueLine[]
  readonly plan: DayPlan
}

export function PlanLines({ lines, plan }: PlanLinesProps) {
  const [open, setOpen] = useState<LineID | undefined>(undefined)
  const answer = plan.shed.answer.value
  const planned = new Map(answer?.lines.map((one) => [one.line, one]))
  return (
    <ul class="rows">
      {lines.map((due) => (
        <li key={due.line.id}>
          <PlanLine
            due={due} planned={planned.get(due.line.id)} wish={wishWords(plan, due.line.id)} open={open === due.line.id}
            onToggle={() => setOpen(open === due.line.id ? undefined : due.line.id)}
          />
          {open === due.line.id && <LineDetail due={due} planned={planned.get(due.line.id)} answer={answer} plan={plan} />}
        </li>
      ))}
    </ul>
  )
}

function wishWords(plan: DayPlan, line: LineID): string {
  const { pinned, refused } = plan.wishes()
  if (refused.has(line)) return t('packing.wish.refused')
  const n = pinned.get(line)
  return n === undefined ? '' : t('packing.wish.pinned', { n })
}

interface PlanLineProps {
  readonly due: DueLine
  readonly planned: PlannedLine | undefined
  readonly wish: string
  readonly open: boolean
  readonly onToggle: () => void
}

function PlanLine({ due, planned, wish, open, onToggle }: PlanLineProps) {
  const farm = useNotebook().farm.value
  const { line, buyer } = due
  const kind = kindWritten(farm, line, line.colours)
  const bunches = planned ? Math.max(planned.packed + planned.more, due.packed.bunches) : due.packed.bunches
  const said = planned ? t('packing.line.of', { bunches, n: line.bunches, kind }) : t('packing.line', { n: line.bunches, kind })
  const small = [said, planned && !planned.priced && t('packing.unpriced'), wish].filter(Boolean).join('; ')
  const name = buyerWritten(farm, buyer)
  return (
    <button type="button" class="line" aria-expanded={open} aria-label={t('packing.line.open', { buyer: name, line: small })} onClick={onToggle}>
      <Head swatch={swatchOfLine(farm, line)} size={40} />
      <span><b>{name}</b> <span class="small block">{small}</span></span>
      <span class="n">{count((planned ? bunches : line.bunches) * line.stems)}</span>
    </button>
  )
}

interface LineDetailProps {
  readonly due: DueLine
  readonly planned: PlannedLine | undefined
  readonly answer: PackingAnswer | undefined
  readonly plan: DayPlan
}

function LineDetail({ due, planned, answer, plan }: LineDetailProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const bunchMore = may.manage ? answer?.money?.one_bunch[due.line.id] : undefined
  return (
    <div class="line-detail">
      {planned && <p class="small">{planned.from.length > 0 ? drawnWritten(farm, planned.from.map(({ lot, stems }) => [lot, stems] as const)) : t('packing.from.none')}</p>}
      {bunchMore !== undefined && (
        <p class="small">{bunchMore > 0 ? t('packing.one_bunch', { amount: amount(bunchMore, farm.sales.terms.currency) }) : t('packing.one_bunch.nothing')}</p>
      )}
      <Wishing due={due} planned={planned} plan={plan} />
    </div>
  )
}

function Wishing({ due, planned, plan }: Omit<LineDetailProps, 'answer'>) {
  const reached = inReach(useNotebook().sync.value)
  const { line, packed } = due
  const wishes = plan.wishes()
  const pinned = wishes.pinned.get(line.id)
  const shown = pinned ?? (planned ? planned.packed + planned.more : packed.bunches)
  const step = line.whole ? Math.max(line.bunches - packed.bunches, 1) : 1
  const pin = (n: number) => plan.wish(wishing(wishes, line.id, n))
  return (
    <>
      <div class="pin" role="group" aria-label={t('packing.pin.label')}>
        <button type="button" class="btn" aria-label={t('packing.pin.less')} disabled={shown - step < packed.bunches} onClick={() => pin(shown - step)}>−</button>
        <p><b role="status">{count(shown)}</b><span class="small block">{t('packing.pin.label')}</span></p>
        <button type="button" class="btn" aria-label={t('packing.pin.more')} disabled={shown + step > line.bunches} onClick={() => pin(shown + step)}>+</button>
      </div>
      <div class="buttons">
        <button type="button" class="btn" aria-pressed={pinned !== undefined} onClick={() => pin(shown)}>{t('packing.pin')}</button>
        <button type="button" class="btn" aria-pressed={wishes.refused.has(line.id)} onClick={() => plan.wish(wishing(wishes, line.id, 'refused'))}>{t('packing.refuse')}</button>
        <button
          type="button" class="btn" aria-pressed={pinned === undefined && !wishes.refused.has(line.id)}
          onClick={() => plan.wish(wishing(wishes, line.id, 'free'))}
        >
          {t('packing.free')}
        </button>
      </div>
      {!reached && <p class="small">{t('packing.wish.offline')}</p>}
    </>
  )
}
