// The plants of the plan by bed, folded by what becomes of them.

import { useMemo, useState } from 'preact/hooks'
import type { IntentDo } from '../crop/ahead_nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { wide } from '../ui/wide'
import { byBed, type Decided } from './decided'
import { DecidedRow } from './DecidedRow'
import type { DivisionPlan } from './division_plan'

interface DecidedBedsProps {
  readonly plan: DivisionPlan
  readonly decided: readonly Decided[]
  /** Divisions that a plant may be made into. */
  readonly most: number
}

/** Of so many plants of a kind in a bed the list is open from the start: on a phone all of them would be a long way to thumb. */
const few = 12
const fewOnPhone = 3

export function DecidedBeds({ plan, decided, most }: DecidedBedsProps) {
  const farm = useNotebook().farm.value
  const beds = useMemo(() => byBed(farm, decided), [decided])
  return (
    <section class="decided">
      <h2>{t('division.plants')}</h2>
      <div class="beside">
        {beds.map(({ bed, groups }) => (
          <section key={bed} class="card">
            <h3>{(bed !== '' && farm.beds.get(bed)?.name) || t('bed.unknown')}</h3>
            {groups.map(({ do: what, plants }) => <Group key={what} what={what} plants={plants} plan={plan} most={most} />)}
          </section>
        ))}
      </div>
    </section>
  )
}

interface GroupProps extends Omit<DecidedBedsProps, 'decided'> {
  readonly what: IntentDo
  readonly plants: readonly Decided[]
}

/** Rows are drawn when they are asked for: a bed may keep thousands. */
function Group({ what, plants, plan, most }: GroupProps) {
  const [open, setOpen] = useState(what !== 'keep' && plants.length <= (wide.value ? few : fewOnPhone))
  return (
    <div class="decided-group">
      <button type="button" class="fold" aria-expanded={open} onClick={() => setOpen(!open)}>
        <b>{t(`division.group.${what}`, { n: plants.length })}</b><Icon name={open ? 'up' : 'down'} />
      </button>
      {open && <ul class="rows">{plants.map((one) => <DecidedRow key={one.plant.id} one={one} plan={plan} most={most} />)}</ul>}
    </div>
  )
}
