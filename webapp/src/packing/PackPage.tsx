// Packing a day by taps: each tap on a line is one bunch.

import { useEffect } from 'preact/hooks'
import type { Day, Farm } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { alarmFeedback, gradeFeedback, prepareFeedback } from '../ui/feedback'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { takingBack } from '../ui/take_back'
import { today } from '../ui/today'
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { buyerWritten } from '../ui/lot_words'
import { dayNow } from './day_now'
import { type DueLine, packedOf } from './due_lines'
import { LastBunch } from './LastBunch'
import { type NextBunch, Packer } from './packer'
import { drawnBriefly, kindWritten, swatchOfLine } from './packing_words'
import { PlanSince } from './PlanSince'
import { usePlanChanges, usePlanInUse, whenPlanned } from './use_plan'

export function PackPage({ day }: { readonly day: Day }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const packer = Packer.of(notebook)
  useEffect(prepareFeedback, [])
  useEffect(() => packer.show(), [packer])
  const back = useUndoable()
  const { lines } = dayNow(farm, day, today.value)
  const changes = usePlanChanges(day)
  const plan = usePlanInUse(day, changes, packer.tapping.value)
  const tapped = async (due: DueLine, packed: Promise<boolean>) => {
    back.forget()
    if (!await packed) return alarmFeedback()
    gradeFeedback('')
    const { bunches } = packedOf(notebook.farm.peek().sales, due.line.id)
    announce(t('packing.pack.spoken', { buyer: buyerWritten(farm, due.buyer), packed: bunches, n: due.line.bunches }))
  }
  return (
    <>
      <PageHead title={t('packing.pack.title')} back={href('shed', 'packing', day)}>
        <SyncChip />
      </PageHead>
      <div class="page packing pack">
        <p>{t('packing.pack.for', { day: dayName(day, today.value) })} <span class="small whence" role="status">{whenPlanned(plan)}</span></p>
        {plan.shed.answer.value === undefined && <p class="note">{t(plan.shed.fetching.value === 'yes' ? 'packing.planning' : may.manage ? 'packing.offline' : 'packing.offline.crew')}</p>}
        <PlanSince plan={plan} changes={changes} />
        {!may.record && <p class="note">{t('packing.pack.viewer')}</p>}
        {lines.length === 0 && <p class="say">{t('packing.empty')}</p>}
        <ul class="pack-lines">
          {lines.map((due) => <li key={due.line.id}><PackLine due={due} packer={packer} back={back} may={may.record} onTap={() => void tapped(due, packer.pack(due))} /></li>)}
        </ul>
        <p class="small care"><Icon name="care" /> {t('packing.care')}</p>
        {may.record && <LastBunch packer={packer} back={back} lines={lines} onAllTheSame={(due) => void tapped(due, packer.packAllTheSame(due))} />}
      </div>
    </>
  )
}

interface PackLineProps {
  readonly due: DueLine
  readonly packer: Packer
  readonly back: Undoable
  readonly may: boolean
  readonly onTap: () => void
}

function PackLine({ due, packer, back, may, onTap }: PackLineProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { line, buyer, packed: { bunches } } = due
  const name = buyerWritten(farm, buyer)
  const kind = kindWritten(farm, line, line.colours)
  const done = bunches >= line.bunches
  const next = done ? undefined : packer.preview(due)
  const takeBack = async () => {
    await back.act(() => takingBack(notebook, line.id))
    packer.show()
  }
  return (
    <div class={done ? 'pack-line done' : 'pack-line'}>
      <button type="button" class="pack-tap" aria-label={t('packing.pack.tap', { buyer: name, kind, packed: bunches, n: line.bunches })} disabled={!may} onClick={onTap}>
        <Head swatch={swatchOfLine(farm, line)} size={36} />
        <span class="pack-what">
          <b>{name}</b>
          <span class="small block">{kind}, {t('packing.stems', { n: line.stems })}</span>
        </span>
        <span class="pack-count">
          <b>{t('packing.pack.count', { packed: bunches, n: line.bunches })}</b>
          {done && <span class="small block"><Icon name="check" /> {t('packing.pack.done')}</span>}
        </span>
        {next && <span class="small pack-next">{nextWritten(farm, next)}</span>}
      </button>
      {may && (
        <div class="pack-ways">
          <a class="btn" href={href('shed', 'packing', due.day, 'hand', due.order, line.id)} aria-label={t('packing.pack.by_hand', { buyer: name })}><Icon name="on" /></a>
          {bunches > 0 && <button type="button" class="btn" aria-label={t('take_back.of', { buyer: name, kind })} onClick={() => void takeBack()}><Icon name="undo" /></button>}
        </div>
      )}
    </div>
  )
}

function nextWritten(farm: Farm, { stems, held }: NextBunch) {
  if (held) return <><Icon name="warn" /> {t(`packing.pack.${held}`)}</>
  return stems ? t('packing.pack.next', { lots: drawnBriefly(farm, stems) }) : t('packing.pack.few')
}
