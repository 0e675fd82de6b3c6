// A new rule for bunches, or one that is changed or deleted.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { changing, type Deed } from '../crop/deed'
import { withdrawnFact } from '../crop/facts'
import type { Millimetres } from '../crop/nouns'
import { bunchFacts } from '../crop/sale_facts'
import { type Bunch, type BunchID, mostBunchStems } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { failureText } from '../ui/words'
import { doDeed } from './deeds'
import { type BunchForm, bunchForm, type BunchProblem, readBunchForm } from './forms'
import { GradeChoice } from './LineEditor'
import { NumberStepper } from './NumberStepper'

export function BunchFormPage({ before }: { readonly before: Bunch | undefined }) {
  const notebook = useNotebook()
  const { sales, unit } = notebook.farm.value
  const [start] = useState<Bunch>(() => before ?? { id: newUUID() as BunchID, name: '', stems: 10, grade: 'first', length: 0 as Millimetres })
  const [form, setForm] = useState(() => bunchForm(start, unit))
  const [problems, setProblems] = useState<readonly BunchProblem[]>([])
  const [failure, setFailure] = useState('')
  const tell = (part: Partial<BunchForm>) => {
    setForm((all) => ({ ...all, ...part }))
    setProblems([])
  }
  const act = async (deed: Deed, said: string) => {
    try {
      await doDeed(notebook, deed, said)
      go('shed', 'orders', 'bunches')
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  const save = (event: Event) => {
    event.preventDefault()
    const read = readBunchForm(form, start, unit)
    if ('problems' in read) return setProblems(read.problems)
    const deed = before ? changing(bunchFacts(start), bunchFacts(read.bunch)) : { facts: bunchFacts(read.bunch), undo: [withdrawnFact('bunch', start.id, true, 'shed')] }
    void act(deed, t('orders.rule.saved', { name: read.bunch.name }))
  }
  const prices = before ? [...sales.prices.values()].filter(({ bunch }) => bunch === before.id).length : 0
  const gone: Deed = { facts: [withdrawnFact('bunch', start.id, true, 'shed')], undo: [withdrawnFact('bunch', start.id, false, 'shed')] }
  return (
    <>
      <PageHead title={before?.name ?? t('orders.rule.new')} back={href('shed', 'orders', 'bunches')} />
      <form class="page orders reading" noValidate onSubmit={save}>
        <label class="field">
          <span>{t('orders.rule.name')}</span>
          <input autocomplete="off" maxLength={60} value={form.name} onInput={(event) => tell({ name: event.currentTarget.value })} />
        </label>
        <NumberStepper label={t('orders.line.stems')} value={form.stems} least={1} most={mostBunchStems} onChange={(stems) => tell({ stems })} />
        <GradeChoice grade={form.grade} onGrade={(grade) => tell({ grade })} />
        <NumberStepper label={t(unit === 'in' ? 'orders.length.in' : 'orders.length.cm')} value={form.length} step={unit === 'in' ? 2 : 10} least={0} most={200} empty={t('length.any')} onChange={(length) => tell({ length })} />
        {before && <p class="small">{t('orders.rule.later')}</p>}
        {before && prices > 0 && <p class="small">{t('orders.rule.prices', { n: prices })}</p>}
        {before && <button type="button" class="btn" onClick={() => void act(gone, t('orders.rule.deleted', { name: before.name }))}>{t('orders.rule.delete')}</button>}
        <div class="sale-do">
          {problems.map((one) => <p key={one} class="note stop" role="alert">{t(`orders.rule.problem.${one}`, { most: mostBunchStems })}</p>)}
          {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
          <button type="submit" class="btn main">{t('orders.save')}</button>
        </div>
      </form>
    </>
  )
}
