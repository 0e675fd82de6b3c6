// What to pack for a day: how much of what is there is placed, who gets what, and what would change it.

import { useMemo } from 'preact/hooks'
import type { Day } from '../crop/nouns'
import { dateName, dayName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { go, href } from '../ui/route'
import { Say } from '../ui/Say'
import { ShedFailed } from '../ui/ShedFailed'
import { today } from '../ui/today'
import { dayNow } from './day_now'
import { daysDue } from './due_lines'
import { PlanLines } from './PlanLines'
import { PlanLots } from './PlanLots'
import { PlanMoney } from './PlanMoney'
import { PlanShorts } from './PlanShorts'
import { PlanSince } from './PlanSince'
import { packedSince, planSentence } from './plan_sentence'
import { usePlan, usePlanChanges, whenPlanned } from './use_plan'

export function PlanPage({ day }: { readonly day: Day }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const plan = usePlan(day)
  const { lines } = dayNow(farm, day, today.value)
  const changes = usePlanChanges(day)
  const answer = plan.shed.answer.value
  const begun = lines.some(({ packed }) => packed.bunches > 0)
  return (
    <>
      <PageHead title={t('packing.title')} back={href('shed')}>
        <span class="aside whence" role="status">{whenPlanned(plan)}</span>
      </PageHead>
      <div class="page packing">
        <DayChoice day={day} />
        {plan.shed.fetching.value === 'failed' && <ShedFailed onRetry={() => void plan.shed.refresh(notebook)} />}
        {lines.length === 0 ? <p class="say">{t('packing.empty')}</p> : answer
          ? <Say text={planSentence(answer, lines)} />
          : <p class="say" role="status">{t(plan.shed.fetching.value === 'yes' ? 'packing.planning' : 'packing.offline')}</p>}
        {answer && <PackedSince n={packedSince(answer, lines)} />}
        <PlanSince plan={plan} changes={changes} />
        <div class="packing-columns">
          <div>
            {answer && <PlanMoney answer={answer} part="brings" lines={lines} />}
            <PlanLines lines={lines} plan={plan} />
          </div>
          <div>
            {answer && <PlanShorts answer={answer} lines={lines} plan={plan} />}
            {answer && <PlanMoney answer={answer} part="worth" lines={lines} />}
          </div>
          <div><PlanLots day={day} answer={answer} /></div>
        </div>
        <div class="buttons packing-act">
          <a class="btn tall" href={href('shed', 'packing', day, 'pick')}><Icon name="list" />{t('packing.pick')}</a>
          {may.record && <a class="btn main" href={href('shed', 'packing', day, 'pack')}>{t(begun ? 'packing.go_on' : 'packing.start')}</a>}
        </div>
      </div>
    </>
  )
}

function PackedSince({ n }: { readonly n: number }) {
  return n > 0 ? <p class="small">{t('packing.since', { n })}</p> : null
}

function DayChoice({ day }: { readonly day: Day }) {
  const sales = useNotebook().farm.value.sales
  const days = useMemo(() => daysDue(sales, today.value), [sales, today.value])
  const all = days.includes(day) ? days : [...days, day].sort()
  return (
    <>
      <label class="field packing-day">
        <span>{t('packing.day')}</span>
        <select value={day} onChange={(event) => go('shed', 'packing', event.currentTarget.value)}>
          {all.map((one) => <option key={one} value={one}>{one === today.value ? `${dayName(one, today.value)}, ${dateName(one)}` : dateName(one)}</option>)}
        </select>
      </label>
      {days.length > 0 && days.every((one) => one < today.value) && days.at(-1) === day && <p class="note">{t('packing.past')}</p>}
    </>
  )
}
