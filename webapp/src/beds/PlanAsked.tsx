// What the grower asks of the plan: minutes a cut or stems of precision, with what assurance, and what
// counting a plant takes her.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Stepper } from '../ui/Stepper'
import { inHundred } from './ages_sentence'
import { keepPlanSettings, type PlanSettings, planSettings } from './plan_settings'

const assurances = [0.5, 0.8, 0.9, 0.95]

export function PlanAsked() {
  const notebook = useNotebook()
  const asked = planSettings.value
  const change = (part: Partial<PlanSettings>) => void keepPlanSettings(notebook, part)
  return (
    <section class="card asked">
      <div class="choices two" role="group" aria-label={t('plan.by')}>
        {(['minutes', 'stems'] as const).map((by) => (
          <button key={by} type="button" class="btn" aria-pressed={asked.by === by} onClick={() => change({ by })}>{t(`plan.by.${by}`)}</button>
        ))}
      </div>
      {asked.by === 'minutes'
        ? <Stepper label={t('plan.minutes')} value={asked.minutes} step={asked.minutes < 20 ? 1 : 5} least={1} most={600} onChange={(minutes) => change({ minutes })} />
        : <Stepper label={t('plan.stems')} value={asked.stems} step={asked.stems < 5 ? 0.5 : 1} least={0.5} most={99} onChange={(stems) => change({ stems })} />}
      <div class="field">
        <span id="plan-assurance">{t('plan.assurance')}</span>
        <div class="choices four" role="group" aria-labelledby="plan-assurance">
          {assurances.map((assurance) => (
            <button key={assurance} type="button" class="btn" aria-pressed={asked.assurance === assurance} onClick={() => change({ assurance })}>
              {t('plan.assurance.in', { hundred: inHundred(assurance) })}
            </button>
          ))}
        </div>
      </div>
      <details>
        <summary>{t('plan.costs', { n: asked.seconds, cuts: asked.cuts })}</summary>
        <div class="costs">
          <p class="small">{t('plan.costs.why')}</p>
          <Stepper label={t('plan.seconds')} value={asked.seconds} step={1} least={1} most={120} onChange={(seconds) => change({ seconds })} />
          <Stepper label={t('plan.cuts')} value={asked.cuts} step={1} least={1} most={120} onChange={(cuts) => change({ cuts })} />
        </div>
      </details>
    </section>
  )
}
