// One crop's colours: the sentence, the drawing with the plant that was chosen, who drifted, and the rest folded away.

import { useMemo, useState } from 'preact/hooks'
import type { Colour, Farm, Plant, PlantID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { Say } from '../ui/Say'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { wide } from '../ui/wide'
import { AgesSection } from './AgesSection'
import { views } from './colour_plane'
import { plantsSentence, standSentence } from './colour_sentence'
import { colourSettings, setView } from './colour_settings'
import { classed, leftIn, sharesOf } from './colour_shares'
import { type ColourStand, colourStand, standingOf } from './colour_stand'
import { beyondScreen } from './colour_words'
import type { SpeciesColour } from './colours'
import { ColourDrift } from './ColourDrift'
import { ColourNearest, type Wanted } from './ColourNearest'
import { ColourNotes, notesHint } from './ColourNotes'
import { ColourPlane, PlaneLegend } from './ColourPlane'
import { ColourPlant } from './ColourPlant'
import { ColourPower } from './ColourPower'
import { ColourLeft, ColourShares, sharesHint } from './ColourShares'
import { ColourTable } from './ColourTable'
import { unknownReadings } from './plant_colours'
import { cropInRoute } from './use_colours'

export function ColourReport({ told }: { readonly told: SpeciesColour }) {
  const farm = useNotebook().farm.value
  const stand = useMemo(() => colourStand(farm, told.report, today.value), [farm.groundVersion, farm.readingsVersion, told, today.value])
  const plants = useMemo(() => standingOf(farm, told.species, today.value), [farm.groundVersion, told, today.value])
  if (!stand) return <><Say text={t('colours.unmeasured')} /><Links told={told} /><PowerSection told={told} /></>
  return (
    <>
      <div class="reading">
        <Say text={[plantsSentence(stand, seasonOf(farm.calendar, today.value)), standSentence(stand)].filter(Boolean).join(' ')} />
        <p class="small">{t('colours.rests', { n: told.report.readings, firm: told.report.firm, threshold: told.report.threshold })}</p>
      </div>
      <Newer farm={farm} told={told} plants={plants.map(({ id }) => id)} />
      <Parts farm={farm} stand={stand} told={told} plants={plants} />
    </>
  )
}

/** That the device holds readings which the shed has not answered for. */
function Newer({ farm, told, plants }: { readonly farm: Farm; readonly told: SpeciesColour; readonly plants: readonly PlantID[] }) {
  const { newer, gone } = unknownReadings(farm, told, plants)
  return (
    <>
      {newer > 0 && <p class="note warn"><Icon name="warn" /> {t('colours.newer', { n: newer })}</p>}
      {newer === 0 && gone > 0 && <p class="note warn"><Icon name="warn" /> {t('colours.gone', { n: gone })}</p>}
      {told.left_out > 0 && <p class="note warn"><Icon name="warn" /> {t('colours.left_out', { n: told.left_out })}</p>}
    </>
  )
}

interface PartsProps {
  readonly farm: Farm
  readonly stand: ColourStand
  readonly told: SpeciesColour
  readonly plants: readonly Plant[]
}

/** Ways on: what to do about it, and what the classes are. */
function Links({ told }: { readonly told: SpeciesColour }) {
  return (
    <div class="buttons colour-links">
      <a class="btn" href={href('beds', 'lists', cropInRoute(told.species))}><Icon name="list" />{t('lists.link')}</a>
      <a class="btn" href={href('beds', 'classes')}><Icon name="colour" />{t('classes.link')}</a>
    </div>
  )
}

function Parts({ farm, stand, told, plants }: PartsProps) {
  const [chosen, setChosen] = useState<PlantID | undefined>(undefined)
  const [wanted, setWanted] = useState<Wanted | undefined>(undefined)
  // Only who asks for others like a plant closes the form: what is typed in it is wanted as well, and it must stay.
  const [asked, setAsked] = useState(0)
  const all = [...stand.plants, ...stand.references]
  const at = all.findIndex(({ plant }) => plant.id === chosen)
  const one = all[at]
  const card = one && (
    <ColourPlant
      farm={farm} one={one} before={all[at - 1]?.plant.id} after={all[at + 1]?.plant.id} onChoose={setChosen}
      onLike={() => {
        setAsked((n) => n + 1)
        setWanted({ from: 'plant', name: one.plant.code, lab: one.colour.lab, id: one.plant.id })
        document.getElementById('near')?.scrollIntoView()
      }}
    />
  )
  return (
    <>
      <div class="columns">
        <div>
          <Drawing farm={farm} stand={stand} chosen={one} onChoose={setChosen} />
          {!wide.value && (card ?? <p class="small">{t('colours.tap')}</p>)}
          <AgesSection name="colour_numbers" title={t('colours.section.numbers')}><ColourTable farm={farm} stand={stand} /></AgesSection>
        </div>
        <div>
          {wide.value && (card ?? <p class="small">{t('colours.tap')}</p>)}
          <ColourDrift farm={farm} stand={stand} />
          <Links told={told} />
        </div>
      </div>
      <div class="ages-sections">
        <Spread farm={farm} stand={stand} plants={plants} />
        <section id="near" class="ages-section near">
          <h2>{t('colours.section.near')}</h2>
          <ColourNearest key={asked} farm={farm} stand={stand} wanted={wanted} onWant={setWanted} />
        </section>
        <PowerSection told={told} />
        <AgesSection name="colour_notes" title={t('colours.section.notes')} hint={notesHint(told.report)}><ColourNotes farm={farm} report={told.report} /></AgesSection>
      </div>
    </>
  )
}

interface DrawingProps {
  readonly farm: Farm
  readonly stand: ColourStand
  readonly chosen: Parameters<typeof ColourPlane>[0]['chosen']
  readonly onChoose: (plant: PlantID | undefined) => void
}

function Drawing({ farm, stand, chosen, onChoose }: DrawingProps) {
  const notebook = useNotebook()
  const { view } = colourSettings.value
  const classes = useMemo(() => [...farm.colours.values()].filter(({ lab }) => lab !== undefined), [farm.groundVersion]) as readonly Colour[]
  const beyond = [...stand.plants, ...stand.references].filter(({ colour }) => beyondScreen(colour.lab)).length
  return (
    <div class="chart">
      <div class="choices" role="group" aria-label={t('colours.view')}>
        {views.map((one) => <button key={one} type="button" class="btn" aria-pressed={one === view} onClick={() => void setView(notebook, one)}>{t(`colours.view.${one}`)}</button>)}
      </div>
      <ColourPlane stand={stand} classes={classes} view={view} chosen={chosen} onChoose={onChoose} />
      <PlaneLegend stand={stand} />
      <p class="small">{t('colours.chart.explain')}</p>
      {beyond > 0 && <p class="small">{t('colours.beyond', { n: beyond })}</p>}
    </div>
  )
}

function Spread({ farm, stand, plants }: Pick<PartsProps, 'farm' | 'stand' | 'plants'>) {
  const shares = useMemo(() => sharesOf(classed(farm, plants, stand.season, stand.colours)), [farm.groundVersion, farm.readingsVersion, plants, stand])
  const leaving = useMemo(() => leftIn(farm, plants, stand.season, stand.colours), [farm.groundVersion, farm.readingsVersion, plants, stand])
  return (
    <>
      <AgesSection name="colour_shares" title={t('colours.section.shares', { season: String(stand.season) })} hint={sharesHint(farm, shares)}>
        <ColourShares farm={farm} shares={shares} />
      </AgesSection>
      <AgesSection name="colour_left" title={t('colours.section.left')} hint={t('colours.left.hint', { n: leaving.measured.length })}>
        <ColourLeft farm={farm} leaving={leaving} />
      </AgesSection>
    </>
  )
}

function PowerSection({ told }: { readonly told: SpeciesColour }) {
  return <AgesSection name="colour_power" title={t('colours.section.power')}><ColourPower report={told.report} /></AgesSection>
}
