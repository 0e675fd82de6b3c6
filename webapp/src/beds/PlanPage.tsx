// The counting plan: what a cut may cost, how precisely each age is then known and how surely, which
// plants that means, and afterwards whether it came true. Worked out on the phone, with no signal, from
// what the shed last said.

import { useEffect, useState } from 'preact/hooks'
import { seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { answer, cropShown, fetching, refreshAges } from './ages'
import { whence } from './ages_whence'
import { newSeed } from './choose'
import { CropChoice } from './CropChoice'
import { addedIn, type AgePlan, agesInGround, drawIn, enoughFor, spreadOver, type Stratum, strataOf } from './plan'
import './plan.css'
import { halfOf, type PlanTable } from './plan_table'
import { planSentence } from './plan_sentence'
import { plantsIn, planSettings, readPlanSettings } from './plan_settings'
import { PlanAsked } from './PlanAsked'
import { PlanMark } from './PlanMark'
import { PlanReached } from './PlanReached'
import { AgesPlanned, BedsPlanned, ColoursPlanned } from './PlanTables'
import { ShedFailed } from '../ui/ShedFailed'
import { stemsByBed } from './stems'

export function PlanPage() {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  const [chosen, setChosen] = useState<string | undefined>(undefined)
  useEffect(() => { void refreshAges(notebook) }, [live])
  useEffect(() => readPlanSettings(notebook), [])
  const species = (answer.value?.species ?? []).filter((one) => one.plan)
  const shown = cropShown(species, chosen)
  return (
    <>
      <PageHead title={t('plan.title')} back={href('beds')}>
        <span class="aside whence" role="status">{whence()}</span>
      </PageHead>
      <div class="page plan">
        <WhatIs of="counting" />
        <CropChoice species={species} shown={shown} onChoose={setChosen} />
        {fetching.value === 'failed' && <ShedFailed onRetry={() => void refreshAges(notebook)} />}
        {shown?.plan && <Plan key={shown.species} species={shown.species} table={shown.plan} />}
        {!shown && fetching.value !== 'failed' && <p class="say">{t(fetching.value === 'yes' ? 'ages.fetching' : 'plan.offline')}</p>}
      </div>
    </>
  )
}

function planOf(table: PlanTable, strata: readonly Stratum[]): AgePlan[] {
  const asked = planSettings.value
  const ages = agesInGround(table, strata)
  const planned = asked.by === 'minutes'
    ? spreadOver(table, ages, plantsIn(asked.minutes, asked), asked.assurance)
    : enoughFor(table, ages, asked.stems, asked.assurance)
  return ages.map((age, i) => ({
    ...age, planned: planned[i]!, half: halfOf(table, age.expected.half, planned[i]!, age.standing, asked.assurance),
  }))
}

function Plan({ species, table }: { readonly species: string; readonly table: PlanTable }) {
  const farm = useNotebook().farm.value
  const [seed, setSeed] = useState(newSeed)
  const may = useRights()
  const season = seasonOf(farm.calendar, today.value)
  const strata = strataOf(farm, species, season, today.value)
  const ages = planOf(table, strata)
  if (ages.length === 0) return <p class="say">{t('plan.none')}</p>
  const added = addedIn(strata, new Map(ages.map((age) => [age.age, age.planned])))
  const drawn = drawIn(strata, added, seed)
  const cut = stemsByBed(farm, season)
  const begun = strata.some((one) => (cut.get(one.planting.bed) ?? 0) > 0)
  return (
    <div class="columns">
      <div>
        <PlanAsked />
        <Say text={planSentence(ages, planSettings.value)} />
        {begun && <p class="note warn">{t('plan.begun')}</p>}
        <AgesPlanned table={table} ages={ages} />
        {may.manage
          ? <PlanMark species={species} season={season} ages={ages} drawn={drawn.flat()} seed={seed} onAgain={() => setSeed(newSeed())} />
          : <p class="small">{t('plan.owner')}</p>}
      </div>
      <div>
        <PlanReached species={species} table={table} ages={ages} />
        <BedsPlanned strata={strata} added={added} />
        <ColoursPlanned strata={strata} drawn={drawn} />
      </div>
    </div>
  )
}
