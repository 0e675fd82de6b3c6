// Which lines are not filled, for want of what, and who could be asked.

import type { Farm } from '../crop/nouns'
import { listed, listedOr, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Marked } from '../ui/Say'
import { buyerWritten } from '../ui/lot_words'
import { colourCalled } from '../ui/sale_words'
import type { DueLine } from './due_lines'
import type { PackingAnswer, PlannedLine, Short, Taker } from './packing_answer'
import { kindWritten } from './packing_words'
import { type DayPlan, wishing } from './plans'

interface PlanShortsProps {
  readonly answer: PackingAnswer
  readonly lines: readonly DueLine[]
  readonly plan: DayPlan
}

export function PlanShorts({ answer, lines, plan }: PlanShortsProps) {
  const farm = useNotebook().farm.value
  const planned = new Map(answer.lines.map((one) => [one.line, one]))
  const shorts = lines.flatMap((due) => {
    const of = planned.get(due.line.id)
    return of?.short ? [{ due, of, short: of.short }] : []
  })
  if (shorts.length === 0 && answer.wrong.length === 0) return null
  return (
    <section class="shorts">
      <h2>{t('packing.shorts')}</h2>
      {answer.wrong.length > 0 && <Wrong answer={answer} lines={lines} plan={plan} />}
      {shorts.map(({ due, of, short }) => (
        <p key={due.line.id} class={short.why === 'refused' || short.why === 'pinned' ? 'note' : 'note warn'}>
          <Marked text={shortText(farm, lines, due, of, short)} />
        </p>
      ))}
    </section>
  )
}

/** One line's shortfall in words. */
export function shortText(farm: Farm, lines: readonly DueLine[], due: DueLine, planned: PlannedLine, { why, missing, ask, there, to }: Short): string {
  const buyer = buyerWritten(farm, due.buyer)
  const kind = kindWritten(farm, { ...due.line, whole: false }, due.colours)
  const lacks = t('packing.short.bunches', { n: due.line.bunches - planned.packed - planned.more })
  if (why === 'size') return t('packing.short.size', { buyer, kind })
  if (why === 'refused') return t('packing.short.refused', { buyer })
  if (why === 'pinned') return t('packing.short.pinned', { buyer, short: lacks })
  if (why === 'floor') return t('packing.short.floor', { buyer, short: lacks, kind })
  if (missing === 0) return t('packing.short.time', { buyer, short: lacks })
  const short = there === 0 ? t('packing.short.none', { buyer, short: lacks, kind }) : t(`packing.short.${why}`, { buyer, short: lacks, kind, n: missing })
  const takers = to.flatMap((taker) => takerText(farm, lines, taker) ?? [])
  return [
    short, takers.length > 0 && t('packing.short.to', { takers: listed(takers) }),
    ask.length > 0 && t('packing.short.ask', { colours: listedOr(ask.map((id) => colourCalled(farm, id))) }),
  ].filter(Boolean).join(' ')
}

/** "Studio, 20 stems (paid more a stem)". */
function takerText(farm: Farm, lines: readonly DueLine[], { line, stems, better }: Taker): string | undefined {
  const due = lines.find((one) => one.line.id === line)
  return due && t(better ? 'packing.short.taker.better' : 'packing.short.taker', { buyer: buyerWritten(farm, due.buyer), n: stems })
}

function Wrong({ answer, lines, plan }: PlanShortsProps) {
  const farm = useNotebook().farm.value
  const names = answer.wrong.map((id) => {
    const due = lines.find(({ line }) => line.id === id)
    return due ? `${buyerWritten(farm, due.buyer)}, ${kindWritten(farm, due.line, due.line.colours)}` : t('packing.buyer.unknown')
  })
  const forget = () => plan.wish(answer.wrong.reduce((wishes, line) => wishing(wishes, line, 'free'), plan.wishes()))
  return (
    <div class="note warn undoable">
      <p>{t('packing.wrong', { lines: listed(names) })}</p>
      <button type="button" class="btn" onClick={forget}>{t('packing.wrong.forget')}</button>
    </div>
  )
}
