// One plant: where it stands, where it comes from, what was seen of it and what it gave. Each section is a
// file of its own, in the order in which a grower asks; wide screens show two beside each other.

import type { Farm, Plant } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { t } from '../messages/messages'
import { FlagChooser } from '../ui/FlagChooser'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { swatchOf } from '../ui/words'
import { PlantActions } from './PlantActions'
import { PlantColour } from './PlantColour'
import { PlantFacts } from './PlantFacts'
import { ClearedFlags, StandingFlags } from './PlantFlags'
import { PlantKin } from './PlantKin'
import { PlantMap } from './PlantMap'
import { PlantNotes } from './PlantNotes'
import { PlantPhotos } from './PlantPhotos'
import { PlantSeen } from './PlantSeen'
import { PlantSold } from './PlantSold'
import { PlantStems } from './PlantStems'
import './plant.css'
import { VisitList } from './VisitList'

export function PlantPage({ plant }: { readonly plant: Plant }) {
  const farm = useNotebook().farm.value
  const bed = bedOf(farm, plant)
  const may = useRights()
  return (
    <div class="plant-page">
      <PageHead title={plant.code} back={bed === undefined ? href('beds') : href('beds', 'bed', bed)} />
      <div class="page plant-parts">
        <div>
          <section class="plant-top">
            <Head swatch={swatchOf(farm, plant)} size={84} />
            <PlantFacts farm={farm} plant={plant} />
          </section>
          <PlantActions plant={plant} />
          <PlantMap farm={farm} plant={plant} />
          <PlantKin farm={farm} plant={plant} />
          <PlantFlags farm={farm} plant={plant} mayFlag={may.record} />
          <PlantNotes farm={farm} plant={plant} mayWrite={may.record} />
        </div>
        <div>
          <PlantStems farm={farm} plant={plant} />
          <PlantColour farm={farm} plant={plant} />
          <PlantSeen farm={farm} plant={plant} />
          <PlantSold farm={farm} plant={plant} />
          <PlantPhotos plant={plant} mayAdd={may.record} mayDelete={may.manage} />
          <section>
            <h2>{t('plant.visits')}</h2>
            <VisitList plant={plant.id} />
          </section>
        </div>
      </div>
    </div>
  )
}

interface PlantFlagsProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly mayFlag: boolean
}

function PlantFlags({ farm, plant, mayFlag }: PlantFlagsProps) {
  return (
    <section>
      <h2>{t('flags.title')}</h2>
      {mayFlag ? <FlagChooser plant={plant} /> : <StandingFlags farm={farm} plant={plant} />}
      <ClearedFlags farm={farm} plant={plant} />
    </section>
  )
}
