// Which plants to keep, divide, lift or replace, to reach a goal in the seasons to come: asked of the shed by an owner,
// changed by hand, taken, and judged when the next season has been counted.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { WhatIs } from '../ui/WhatIs'
import { Asked } from './Asked'
import './division.css'
import { DivisionPlan } from './division_plan'
import { Judgements } from './Judgements'
import { Planned, PlannedPlants, PlannedWhen } from './Planned'

export function DivisionPlace() {
  const may = useRights()
  return (
    <>
      <PageHead title={t('division.title')} back={href('ahead')}>{may.manage && <PlannedWhen />}</PageHead>
      <div class="page division"><WhatIs of="division" />{may.manage ? <Planning /> : <OwnersPlan />}</div>
    </>
  )
}

function Planning() {
  const plan = DivisionPlan.of(useNotebook())
  return (
    <>
      <Judgements />
      <div class="columns">
        <Asked plan={plan} />
        <Planned plan={plan} />
      </div>
      <PlannedPlants plan={plan} />
    </>
  )
}

function OwnersPlan() {
  return (
    <>
      <p class="say">{t('division.owner')}</p>
      <a class="btn tall" href={href('row', 'divide')}><Icon name="list" />{t('division.walk')}</a>
    </>
  )
}
