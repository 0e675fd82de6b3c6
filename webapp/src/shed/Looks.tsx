// Needs a look: what a person should settle, each in a sentence with what can be done.

import { useState } from 'preact/hooks'
import { parseCell } from '../crop/cells'
import type { Farm, Visit, VisitID } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import type { Look } from '../sync/notebook'
import { cellName, mostOf } from '../ui/cells'
import { factForWithdrawal } from '../ui/correct'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { TotalEditor } from '../ui/TotalEditor'
import { failureText } from '../ui/words'

export function Looks() {
  const looks = useNotebook().looks.value
  if (looks.length === 0) return null
  return (
    <section class="looks">
      <h2>{t('looks.title', { n: looks.length })}</h2>
      {looks.map((look) => <LookCard key={`${look.kind} ${look.type} ${look.id} ${look.field}`} look={look} />)}
    </section>
  )
}

function LookCard({ look }: { readonly look: Look }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const [open, setOpen] = useState(false)
  // One that is withdrawn is not in the farm, and may want a look all the same.
  const visit = look.type === 'visit' ? notebook.visit(look.id as VisitID) : undefined
  const what = whatOf(look, farm, visit)
  if (look.kind === 'withdrawn') return <WithdrawnCard look={look} what={what} />
  const n = visit ? notebook.cell(visit.id, look.field).total : 0
  return (
    <div class="card">
      <p>{t(`looks.${look.kind}`, { what, n })}</p>
      {!may.record && <p class="small">{t('looks_on.settle')}</p>}
      {visit && may.record && !open && <button type="button" class="btn" onClick={() => setOpen(true)}>{t('looks.settle')}</button>}
      {visit && open && <TotalEditor visit={visit} cell={look.field} name={what} most={mostOf(visit)} onDone={() => setOpen(false)} />}
    </div>
  )
}

interface WithdrawnCardProps {
  readonly look: Look
  readonly what: string
}

function WithdrawnCard({ look, what }: WithdrawnCardProps) {
  const notebook = useNotebook()
  const may = useRights()
  const settles = look.type === 'visit' ? may.record : may.manage
  const [problem, setProblem] = useState('')
  const settle = (withdrawn: boolean) => {
    notebook.record([factForWithdrawal(notebook, look, withdrawn)]).catch((reason: unknown) => setProblem(failureText(reason)))
  }
  return (
    <div class="card">
      <p>{t('looks.withdrawn', { what })}</p>
      {settles ? (
        <div class="buttons">
          <button type="button" class="btn" onClick={() => settle(false)}>{t('looks.restore')}</button>
          <button type="button" class="btn" onClick={() => settle(true)}>{t('looks.leave_out')}</button>
        </div>
      ) : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

/** What a look is about: "R4K 7M on 3 June: extra, 50 cm". */
function whatOf(look: Look, farm: Farm, visit: Visit | undefined): string {
  if (look.type !== 'visit') return hasName(look, farm) ?? t('looks.what.other', { id: look.id })
  if (!visit) return t('looks.what.visit')
  const plant = visit.plant === '' ? undefined : farm.plants.get(visit.plant)
  const bed = visit.bed === '' ? undefined : farm.beds.get(visit.bed)
  const cell = look.field === '' ? undefined : parseCell(look.field)
  const where = t('looks.what', { subject: plant?.code ?? bed?.name ?? t('bed.unknown'), day: dayName(visit.date, today.value) })
  return cell ? t('looks.what.cell', { where, cell: cellName(farm, cell) }) : where
}

function hasName(look: Look, farm: Farm): string | undefined {
  if (look.type === 'plant') return farm.plants.get(look.id as never)?.code
  if (look.type === 'bed') return farm.beds.get(look.id as never)?.name
  return undefined
}
