// A bunch made up by hand: of which lots, and for which line of the day.

import { useRef, useState } from 'preact/hooks'
import { byLife, cooler, lotsDay, type Lot } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import { type Day, mostBenchStems } from '../crop/nouns'
import type { LineID, OrderID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { goInstead, href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { buyerWritten, lotName, lotWhence } from '../ui/lot_words'
import { stemsTyped } from '../ui/stems_typed'
import { keptBack, mayGo } from './draw'
import { type DueLine, dueLine, dueLines } from './due_lines'
import { Packer } from './packer'
import { kindWritten, notPackedText } from './packing_words'

interface HandPageProps {
  readonly day: Day
  readonly order: OrderID
  readonly line: LineID
}

export function HandPage({ day, order, line }: HandPageProps) {
  const sales = useNotebook().farm.value.sales
  const may = useRights()
  const due = dueLine(sales, order, line)
  return (
    <>
      <PageHead title={t('packing.hand.title')} back={href('shed', 'packing', day, 'pack')} />
      <div class="page packing reading">
        {!may.record ? <p class="note">{t('packing.pack.viewer')}</p> : due ? <Hand due={due} /> : <p class="say">{t('packing.empty')}</p>}
      </div>
    </>
  )
}

function Hand({ due }: { readonly due: DueLine }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const packer = Packer.of(notebook)
  const may = useRights()
  const { stems: next, held } = packer.preview(due)
  const [stems, setStems] = useState<ReadonlyMap<string, number>>(() => (held ? undefined : next) ?? new Map())
  const filling = packer.fillingOf(due)
  const { fresh, past } = byLife(cooler(farm, lotsDay(farm.sales.terms, due.day, today.value)))
  const kept = fresh.filter((lot) => keptBack(lot, filling))
  const good = fresh.filter((lot) => mayGo(lot, filling))
  const others = fresh.filter((lot) => !kept.includes(lot) && !good.includes(lot))
  const sum = [...stems.values()].reduce((all, n) => all + n, 0)
  const size = due.line.stems
  const failure = packer.failure.value
  const set = (cell: string, n: number) => setStems(new Map([...stems].filter(([other]) => other !== cell).concat(n > 0 ? [[cell, n]] : [])))
  const busy = useRef(false)
  const pack = async () => {
    if (busy.current) return // a second tap means the same bunch
    busy.current = true
    const packed = await packer.packOf(due, stems)
    busy.current = false
    if (!packed) return
    announce(packedText(due, farm.sales.buyers.get(due.buyer)?.name ?? '', due.packed.bunches + 1))
    goInstead('shed', 'packing', due.day, 'pack')
  }
  const lots = { stems, onSet: set }
  return (
    <>
      <label class="field">
        <span>{t('packing.hand.line')}</span>
        <select value={due.line.id} onChange={(event) => other(farm.sales, due.day, event.currentTarget.value)}>
          {dueLines(farm.sales, due.day).map((one) => (
            <option key={one.line.id} value={one.line.id}>{buyerWritten(farm, one.buyer)}, {kindWritten(farm, one.line, one.line.colours)}</option>
          ))}
        </select>
      </label>
      <Say text={t('packing.hand.say', { n: size })} />
      {held && <p class="note warn"><Icon name="warn" /> {t(`packing.hand.held.${held}`)}{!may.manage && ` ${t('packing.held.crew')}`}</p>}
      <Lots title={t('packing.hand.meets')} held={good} {...lots} />
      {others.length > 0 && <Lots title={t('packing.hand.others')} say={t('packing.hand.others.say')} held={others} {...lots} />}
      {kept.length > 0 && <Lots title={t('packing.hand.kept')} say={t(may.manage ? 'packing.hand.kept.say' : 'packing.hand.kept.crew')} held={kept} {...lots} closed={!may.manage} />}
      {past.length > 0 && (
        <details class="past">
          <summary>{t('packing.hand.past', { n: past.length })}</summary>
          <Lots title={t('packing.hand.past.title')} held={past} {...lots} />
        </details>
      )}
      {failure?.line === due.line.id && <p class="note stop" role="alert">{notPackedText(failure.reason)}</p>}
      <div class="packing-act">
        <p role="status">{t('packing.hand.sum', { sum, n: size })}</p>
        <button type="button" class="btn main" disabled={sum !== size || size <= 0 || (held !== undefined && !may.manage)} onClick={() => void pack()}>{t('packing.hand.pack')}</button>
      </div>
    </>
  )
}

function packedText({ line }: DueLine, buyer: string, packed: number): string {
  return t('packing.hand.packed', { buyer, packed, n: line.bunches })
}

function other(sales: Parameters<typeof dueLines>[0], day: Day, id: string): void {
  const due = dueLines(sales, day).find(({ line }) => line.id === id)
  if (due) goInstead('shed', 'packing', day, 'hand', due.order, due.line.id)
}

interface LotsProps {
  readonly title: string
  readonly say?: string
  readonly held: readonly Lot[]
  readonly stems: ReadonlyMap<string, number>
  readonly onSet: (cell: string, n: number) => void
  /** Shown alone: nothing is to be taken of them. */
  readonly closed?: boolean
}

function Lots({ title, say, held, stems, onSet, closed = false }: LotsProps) {
  const farm = useNotebook().farm.value
  return (
    <section>
      <h2>{title}</h2>
      {say !== undefined && <p class="small">{say}</p>}
      {held.length === 0 && <p class="small">{t('packing.lots.none')}</p>}
      <ul class="rows">
        {held.map(({ id, left }) => {
          const cell = lotCell(id)
          const n = stems.get(cell) ?? 0
          return (
            <li key={cell}>
              <label class="line plain hand-lot">
                <span>
                  <b>{lotName(farm, id)}</b>
                  <span class="small block">{lotWhence(farm, id)}, {t('packing.hand.left', { n: left })}</span>
                  {n > left && <span class="small block over">{t('packing.hand.over')}</span>}
                </span>
                {!closed && <input
                  type="number" inputMode="numeric" min="0" max={mostBenchStems} value={n === 0 ? '' : n}
                  onInput={(event) => onSet(cell, (stemsTyped(event.currentTarget.value) ?? 0))}
                />}
              </label>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
