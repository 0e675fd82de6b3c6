// Raised flags by kind: the plants of a kind in walk order, as a list of what is to be done.

import { signal } from '@preact/signals'
import { useState } from 'preact/hooks'
import { kindFacts, standingFlag } from '../crop/flags'
import type { Bed, Farm, FlagKind, Plant, PlantID } from '../crop/nouns'
import { flagKinds } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { flaggedBy } from '../ui/FlagChooser'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { failureText, placeName, swatchOf } from '../ui/words'
import { bedByBed, countsByKind, flaggedGone, flaggedIn, protectedAmong } from './flag_list'
import './flags.css'

/** Kept while the app is open, so that who looks at a plant comes back to the same list. */
const chosen = signal<FlagKind | undefined>(undefined)

interface FlagsPageProps {
  /** All beds where none is told. */
  readonly bed?: Bed | undefined
}

export function FlagsPage({ bed }: FlagsPageProps) {
  const farm = useNotebook().farm.value
  const plants = flaggedIn(farm, bed?.id, today.value)
  const gone = flaggedGone(farm, bed?.id, today.value)
  const counts = countsByKind(plants)
  const kind = chosen.value ?? flagKinds.find((one) => (counts.get(one) ?? 0) > 0)
  return (
    <div class="flags-page">
      <PageHead title={bed ? t('flags.in', { bed: bed.name }) : t('flags.title')} back={bed ? href('beds', 'bed', bed.id) : href('beds')} />
      <div class="page flags-parts">
        <div>
          {plants.length === 0 && <p class="say">{t('flags.none')}</p>}
          <ul class="flag-kinds">
            {flagKinds.map((one) => <li key={one}><Kind kind={one} n={counts.get(one) ?? 0} chosen={one === kind} /></li>)}
          </ul>
          {gone > 0 && <p class="small">{t('flags.gone', { n: gone })}</p>}
        </div>
        {kind && <KindList key={kind} farm={farm} kind={kind} plants={plants} />}
      </div>
    </div>
  )
}

function Kind({ kind, n, chosen: isChosen }: { readonly kind: FlagKind; readonly n: number; readonly chosen: boolean }) {
  return (
    <button type="button" class="btn flag" aria-pressed={isChosen} onClick={() => { chosen.value = kind }}>
      <span>{t(`flag.${kind}`)}</span><b class="n">{count(n)}</b>
    </button>
  )
}

interface KindListProps {
  readonly farm: Farm
  readonly kind: FlagKind
  readonly plants: readonly Plant[]
}

function KindList({ farm, kind, plants }: KindListProps) {
  const notebook = useNotebook()
  /** As they were before they were cleared here: they stay where they were, to be undone. */
  const [cleared, setCleared] = useState<ReadonlyMap<PlantID, Plant>>(new Map())
  const [problem, setProblem] = useState('')
  const flagged = plants.filter((plant) => standingFlag(plant, kind))
  const put = async (plant: Plant, on: boolean) => {
    try {
      await notebook.record(kindFacts(plant, kind, on))
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    setProblem('')
    setCleared((all) => new Map(all).set(plant.id, plant))
    announce(t(on ? 'flags.raised' : 'flags.cleared', { flag: t(`flag.${kind}`), code: plant.code }))
  }
  const listed = [...flagged, ...[...cleared.values()].filter(({ id }) => !flagged.some((plant) => plant.id === id))]
  const kept = protectedAmong(farm, listed)
  return (
    <section>
      <h2>{t('flags.list', { flag: t(`flag.${kind}`), n: flagged.length })}</h2>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      {kept.size > 0 && <p class="note warn">{t('flags.protected')}</p>}
      {(kind === 'divide' || kind === 'lift') && flagged.length > 0 && <p class="small"><Icon name="care" /> {t('flags.care')}</p>}
      {listed.length === 0 && <p>{t('flags.none.kind')}</p>}
      {bedByBed(farm, listed).map(({ bed, plants: inBed }) => (
        <div key={bed?.id ?? ''}>
          <h3>{bed?.name ?? t('bed.unknown')}</h3>
          <ol class="rows flagged">
            {inBed.map((plant) => (
              <FlaggedPlant key={plant.id} farm={farm} plant={plant} kind={kind} kept={kept.has(plant.id)} onPut={(on) => void put(plant, on)} />
            ))}
          </ol>
        </div>
      ))}
    </section>
  )
}

interface FlaggedPlantProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly kind: FlagKind
  readonly kept: boolean
  readonly onPut: (on: boolean) => void
}

function FlaggedPlant({ farm, plant, kind, kept, onPut }: FlaggedPlantProps) {
  const may = useRights()
  const flag = standingFlag(farm.plants.get(plant.id) ?? plant, kind)
  return (
    <li>
      <a class="line" href={href('beds', 'plant', plant.id)}>
        <Head swatch={swatchOf(farm, plant)} size={36} />
        <span>
          <b>{plant.code}</b> <span class="small">{placeName(plant)}</span>
          <span class="small block">{flag ? flaggedBy(farm, flag) : t('flags.off')}{kept && ` · ${t('flags.protected.short')}`}</span>
        </span>
      </a>
      {may.record && (
        <button type="button" class="btn" aria-label={t(flag ? 'flags.clear.of' : 'flags.raise.of', { code: plant.code })} onClick={() => onPut(flag === undefined)}>
          {t(flag ? 'flags.clear' : 'undo')}
        </button>
      )}
    </li>
  )
}
