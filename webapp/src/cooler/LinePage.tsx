// A line of an order and what was packed for it: the lots behind it, by whom, and what the buyer claimed of it. What was
// packed is put right here.

import { useState } from 'preact/hooks'
import { billedLines, bunchesMissing, notesWithoutClaim, overBilledLine, stillOver } from '../crop/billed'
import { overClaimedLine } from '../crop/claimed'
import { withdrawnFact } from '../crop/facts'
import { claimsOfLine, lotsOfLine } from '../crop/lot_trace'
import { parseLotCell } from '../crop/lots'
import type { Farm } from '../crop/nouns'
import { bunchesPacked, lineOf, packedFor } from '../crop/over_packed'
import type { ClaimID, Invoice, LineID } from '../crop/sale_nouns'
import { count, dayName, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { buyerWritten, dueDay, lineWritten, lotName, lotSwatch, lotWhence } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { PackedRow } from '../ui/PackedRow'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { takingBack } from '../ui/take_back'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { type Undoable, useUndoable } from '../ui/use_undoable'
import { ClaimForm } from './ClaimForm'
import { ClaimRow } from './ClaimRow'

export function LinePage({ line }: { readonly line: LineID }) {
  const farm = useNotebook().farm.value
  const [first] = packedFor(farm.sales, line)
  const due = first?.due ?? dueDay(farm, line)
  return (
    <div class="cooler">
      <PageHead title={first ? buyerWritten(farm, first.buyer) : t('line.title')} back={href('shed', 'claims')} />
      <div class="page">
        <div class="columns">
          <div>
            <Say text={t('line.say', { line: lineWritten(farm, line), day: dayName(due, today.value) })} />
            <PackedPart farm={farm} line={line} />
            <LotsPart farm={farm} line={line} />
          </div>
          <div><ClaimsPart farm={farm} line={line} /></div>
        </div>
      </div>
    </div>
  )
}

function PackedPart({ farm, line }: { readonly farm: Farm; readonly line: LineID }) {
  const notebook = useNotebook()
  const may = useRights()
  const doing = useUndoable()
  const packed = packedFor(farm.sales, line)
  const bunches = bunchesPacked(farm.sales, line)
  const text = packed.length === 0 ? t('line.unpacked') : t('line.packed', { n: bunches, ordered: count(lineOf(farm.sales, line)?.bunches ?? 0) })
  return (
    <>
      <p>{text}</p>
      <BilledNote farm={farm} line={line} />
      <ul class="rows">{packed.filter((one) => one.bunches !== 0 || one.stems.size > 0).map((one) => <PackedRow key={one.id} farm={farm} packed={one} brief mayRight={may.record} />)}</ul>
      <UndoNote {...doing} />
      {may.record && bunches > 0 && <button type="button" class="btn" onClick={() => void doing.act(() => takingBack(notebook, line))}><Icon name="undo" /> {t('take_back')}</button>}
    </>
  )
}

/** That invoices have it, before anybody takes of it back; only owners' devices know. */
function BilledNote({ farm, line }: { readonly farm: Farm; readonly line: LineID }) {
  const billed = billedLines(farm.sales).get(line)
  const newest = [...billed?.on.keys() ?? []].at(-1)
  if (!billed || newest === undefined || billed.bunches <= 0) return null
  const over = overBilledLine(farm.sales, line)
  const missing = bunchesMissing(billed)
  const number = farm.sales.invoices.get(over?.invoice ?? newest)?.number ?? ''
  return (
    <div class={over ? 'note warn' : 'note'}>
      <p>{over ? t('line.over_billed', { n: stillOver(over) }) : t('line.billed', { n: billed.bunches })}</p>
      {missing > 0 && billed.bunches > bunchesPacked(farm.sales, line) && <p>{t('papers.taken_back.missing', { n: missing })}</p>}
      <a href={href('shed', 'papers', 'invoice', over?.invoice ?? newest)}>{t('papers.invoice.named', { number })}</a>
    </div>
  )
}

function LotsPart({ farm, line }: { readonly farm: Farm; readonly line: LineID }) {
  const lots = lotsOfLine(farm, line)
  return (
    <>
      <h2>{t('line.lots')}</h2>
      {lots.length === 0 && <p class="small">{t('line.lots.none')}</p>}
      <ul class="rows">
        {lots.map(({ cell, stems }) => {
          const lot = parseLotCell(cell)
          return lot && (
            <li key={cell}>
              <a class="line" href={href('shed', 'lot', cell)}>
                <Head swatch={lotSwatch(farm, lot)} size={36} />
                <span><b>{lotName(farm, lot)}</b><span class="small block">{lotWhence(farm, lot)}</span></span>
                <span class="n">{count(stems)}</span>
              </a>
            </li>
          )
        })}
      </ul>
    </>
  )
}

function ClaimsPart({ farm, line }: { readonly farm: Farm; readonly line: LineID }) {
  const may = useRights()
  const away = useUndoable()
  const written = useUndoable()
  const [changing, setChanging] = useState<ClaimID>()
  const claims = claimsOfLine(farm, line)
  const lots = lotsOfLine(farm, line)
  const [first] = packedFor(farm.sales, line)
  const over = overClaimedLine(farm.sales, line)
  const open = (id: ClaimID | undefined) => {
    away.forget()
    written.forget()
    setChanging(id)
  }
  return (
    <>
      <UndoNote {...away} />
      <UndoNote {...written} problem="" />
      {over && <p class="note warn">{t('line.over_claimed', { n: over.claimed, packed: count(over.packed) })}</p>}
      {may.manage && notesWithoutClaim(farm.sales, line).map((note) => <ClaimGone key={note.id} farm={farm} note={note} doing={away} />)}
      {claims.length > 0 && <h2>{t('line.claims')}</h2>}
      <ul class="rows">
        {claims.map((claim) => (claim.id === changing
          ? <li key={claim.id}><ClaimForm line={line} packed={claim} lots={lots} doing={written} claim={claim} onDone={() => setChanging(undefined)} /></li>
          : <ClaimRow key={claim.id} claim={claim} doing={away} onChange={() => open(claim.id)} />))}
      </ul>
      {first && may.manage && changing === undefined && <ClaimForm key={claims.length} line={line} packed={first} lots={lots} doing={written} />}
      {!may.manage && <p class="note">{t('claims.owner')}</p>}
    </>
  )
}

/** A claim that another device took away though a note credits it: nothing else of the line is credited until it is back. */
function ClaimGone({ farm, note, doing }: { readonly farm: Farm; readonly note: Invoice; readonly doing: Undoable }) {
  const fact = (away: boolean) => withdrawnFact('claim', note.claim, away, 'shed')
  const bringBack = () => doing.act(() => ({ facts: [fact(false)], undo: [fact(true)], said: t('claim.brought_back') }))
  return (
    <div class="note warn">
      <p>{t('sale_looks.claim_gone', { number: note.number, buyer: buyerWritten(farm, note.buyer) })}</p>
      <button type="button" class="btn" onClick={() => void bringBack()}>{t('sale_looks.claim_gone.back')}</button>
    </div>
  )
}
