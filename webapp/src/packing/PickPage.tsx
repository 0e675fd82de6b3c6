// Which buckets to fetch: how many stems of each lot, the oldest first, and for whom.

import { useMemo, useState } from 'preact/hooks'
import { lotCell } from '../crop/lots'
import type { ColourID, Day } from '../crop/nouns'
import { count, listed, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { buyerWritten, lotName, lotWhence, lotWritten } from '../ui/lot_words'
import { dayNow } from './day_now'
import { Packer } from './packer'
import { pickList, type Picked } from './pick_list'
import { pathOf } from './plans'
import { PickPaper } from './PickPaper'
import { changesWritten, PlanSince } from './PlanSince'
import { usePlanChanges, usePlanInUse, whenPlanned } from './use_plan'

export function PickPage({ day }: { readonly day: Day }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const now = dayNow(farm, day, today.value)
  const changes = usePlanChanges(day)
  const plan = usePlanInUse(day, changes)
  const packer = Packer.of(notebook)
  const answer = plan.shed.answer.value
  const wishes = plan.wishes()
  const [fetched, setFetched] = useState<ReadonlySet<string>>(new Set())
  const list = useMemo(() => pickList({ now, plan: answer, wishes, fillingOf: (one) => packer.fillingOf(one) }), [now, answer, pathOf(day, wishes)])
  const { lots, short } = list
  const toggle = (cell: string) => {
    const next = new Set(fetched)
    if (!next.delete(cell)) next.add(cell)
    setFetched(next)
  }
  const stems = lots.reduce((sum, one) => sum + one.stems, 0)
  return (
    <div class="papers-page">
      <PageHead title={t('packing.pick')} back={href('shed', 'packing', day)}>
        <span class="aside whence" role="status">{whenPlanned(plan)}</span>
      </PageHead>
      <div class="page packing">
        <PlanSince plan={plan} changes={changes} />
        {stems === 0 ? <p class="say">{t('packing.pick.none')}</p> : <Say text={t('packing.pick.say', { n: stems, lots: t('packing.pick.lots', { n: lots.length }) })} />}
        <ul class="pack-lines">
          {lots.map((one) => {
            const cell = lotCell(one.lot.id)
            return <li key={cell}><Bucket picked={one} fetched={fetched.has(cell)} onToggle={() => toggle(cell)} /></li>
          })}
        </ul>
        {[...short].map(([why, n]) => <p key={why} class={why === 'none' ? 'note warn' : 'note'}>{t(`packing.pick.short.${why}`, { n })}</p>)}
        <p class="small care"><Icon name="care" /> {t('packing.care')}</p>
        <div class="buttons packing-act">
          {stems > 0 && <button type="button" class="btn tall" onClick={() => print()}><Icon name="print" />{t('papers.print')}</button>}
          {may.record && <a class="btn main" href={href('shed', 'packing', day, 'pack')}>{t('packing.start')}</a>}
        </div>
      </div>
      {stems > 0 && <PickPaper day={day} list={list} planned={whenPlanned(plan)} since={changes ? changesWritten(farm, changes) : ''} />}
    </div>
  )
}

interface BucketProps {
  readonly picked: Picked
  readonly fetched: boolean
  readonly onToggle: () => void
}

function Bucket({ picked: { lot, stems, for: buyers }, fetched, onToggle }: BucketProps) {
  const farm = useNotebook().farm.value
  const whom = listed([...buyers].map(([buyer, n]) => t('packing.pick.for', { buyer: buyerWritten(farm, buyer), n })))
  return (
    <div class={fetched ? 'pack-line done' : 'pack-line'}>
      <button type="button" class="pack-tap" aria-pressed={fetched} aria-label={t('packing.pick.fetch', { lot: lotWritten(farm, lotCell(lot.id)), n: stems })} onClick={onToggle}>
        <Head swatch={farm.colours.get(lot.id.colour as ColourID)?.swatch ?? ''} size={44} />
        <span class="pack-what">
          <b>{lotName(farm, lot.id)}</b>
          <span class="small block">{lotWhence(farm, lot.id)}</span>
          <span class="small block">{whom}</span>
        </span>
        <span class="pack-count">
          <b>{count(stems)}</b>
          <span class="small block">{fetched ? <><Icon name="check" /> {t('packing.pick.fetched')}</> : t('packing.pick.of', { n: lot.left })}</span>
        </span>
      </button>
    </div>
  )
}
