// What to keep, divide and lift, in walk order, each with its reasons and one tap for the flag. It prints as it stands.

import { useEffect, useMemo, useState } from 'preact/hooks'
import { hexOf } from '../colour/shown'
import { standingFlag, toggleFacts } from '../crop/flags'
import type { Colour, Farm, FlagKind } from '../crop/nouns'
import { count, dateName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { go, href } from '../ui/route'
import { Marked } from '../ui/Say'
import { today } from '../ui/today'
import { failureText, swatchOf, whereStands } from '../ui/words'
import './ages.css'
import { answer as agesAnswer, readAges, worthOf } from './ages'
import { AgesSection } from './AgesSection'
import './colour.css'
import { flagOf, type ListName, listNames, type Lists, type Proposal, proposals, type Reason, type Tone } from './colour_lists'
import { colourSettings, setWanted } from './colour_settings'
import { colourStand, standingOf } from './colour_stand'
import { classSwatch } from './colour_words'
import { fetching, refreshColours, type SpeciesColour } from './colours'
import { CropChoice } from './CropChoice'
import { bedByBed } from './flag_list'
import './flags.css'
import { reasonWords } from './lists_words'
import { wholeSeasons } from './peers'
import { ShedFailed } from '../ui/ShedFailed'
import { coloursLacking, coloursWhence, cropInRoute, useColours } from './use_colours'

export function ListsPage() {
  const notebook = useNotebook()
  const { species, shown } = useColours()
  useEffect(() => readAges(notebook), [])
  return (
    <>
      <PageHead title={t('lists.title')} back={shown ? href('beds', 'colour', cropInRoute(shown.species)) : href('beds', 'colour')}>
        <span class="aside whence" role="status">{coloursWhence()}</span>
      </PageHead>
      <div class="page ages lists-page">
        <CropChoice species={species} shown={shown} onChoose={(one) => go('beds', 'lists', cropInRoute(one))} />
        {fetching.value === 'failed' && <ShedFailed onRetry={() => void refreshColours(notebook)} />}
        {shown && <CropLists key={shown.species} told={shown} />}
        {!shown && fetching.value !== 'failed' && <p class="say">{coloursLacking()}</p>}
      </div>
    </>
  )
}

function CropLists({ told }: { readonly told: SpeciesColour }) {
  const farm = useNotebook().farm.value
  const { wanted } = colourSettings.value
  const seasons = wholeSeasons(farm, today.value)
  const lists = useMemo(() => {
    const stand = colourStand(farm, told.report, today.value)
    return stand && proposals({ farm, plants: standingOf(farm, told.species, today.value), stand, seasons, worthOf, wanted: new Set(wanted) })
  }, [farm.groundVersion, farm.readingsVersion, told, seasons, agesAnswer.value, wanted, today.value])
  if (!lists) return <p class="say">{t('colours.unmeasured')}</p>
  return (
    <>
      <p class="say"><Marked text={listsSentence(lists)} /></p>
      <WantedClasses farm={farm} />
      <button type="button" class="btn print-lists" onClick={() => print()}><Icon name="print" />{t('lists.print')}</button>
      <p class="paper-only small">{[told.species, dateName(today.value)].filter(Boolean).join(' · ')}</p>
      <div class="lists">
        <div>{acted.map((name) => <List key={name} farm={farm} name={name} all={lists.of[name]} />)}</div>
        <List farm={farm} name="measure" all={lists.of.measure} />
      </div>
      {lists.unknown > 0 && <p class="small">{t('lists.unknown', { n: lists.unknown })}</p>}
      <p class="small">{t('lists.rule')}</p>
    </>
  )
}

/** The lists of something to be done at the plant. */
const acted = listNames.filter((name) => name !== 'measure')

function listsSentence({ of }: Lists): string {
  return t('lists.say', { divide: count(of.divide.length), mother: count(of.mother.length), lift: count(of.lift.length), measure: count(of.measure.length) })
}

function WantedClasses({ farm }: { readonly farm: Farm }) {
  const notebook = useNotebook()
  const { wanted } = colourSettings.value
  const classes = [...farm.colours.values()].sort((a, b) => a.name.localeCompare(b.name))
  const names = classes.filter(({ id }) => wanted.includes(id)).map(({ name }) => name).join(', ')
  return (
    <AgesSection name="lists_wanted" title={t('lists.wanted')} hint={names === '' ? t('lists.wanted.all') : names}>
      <p class="small">{t('lists.wanted.why')}</p>
      <div class="choices" role="group" aria-label={t('lists.wanted')}>{classes.map((one) => <WantedClass key={one.id} one={one} on={wanted.includes(one.id)} onTurn={(on) => void setWanted(notebook, one.id, on)} />)}</div>
    </AgesSection>
  )
}

function WantedClass({ one, on, onTurn }: { readonly one: Colour; readonly on: boolean; readonly onTurn: (on: boolean) => void }) {
  return (
    <button type="button" class="btn colour" aria-pressed={on} onClick={() => onTurn(!on)}>
      <Head swatch={classSwatch(one)} size={30} /><span>{one.name}{!one.lab && <span class="small block">{t('classes.by_eye')}</span>}</span>
    </button>
  )
}

/** How many lack their stems, or anything of their colour. */
function lacking(all: readonly Proposal[], what: 'colour' | 'stems'): number {
  return all.filter(({ reasons }) => reasons.some(({ why, tone }) => tone === 'missing' && (why === 'uncounted') === (what === 'stems'))).length
}

interface ListProps {
  readonly farm: Farm
  readonly name: ListName
  readonly all: readonly Proposal[]
}

const few = 12

function List({ farm, name, all }: ListProps) {
  const [open, setOpen] = useState(false)
  if (all.length === 0 && name === 'doubt') return null
  const shown = open || name !== 'measure' ? all : all.slice(0, few)
  const of = new Map(shown.map((one) => [one.plant.id, one]))
  const whichever = colourSettings.value.wanted.length === 0 && (name === 'divide' || name === 'mother')
  return (
    <section class={`list-${name}`}>
      <h2>{t(`lists.${name}`, { n: all.length })}</h2>
      <p class="small">{all.length === 0 ? t(`lists.${name}.none`) : whichever ? t(`lists.${name}.why.any`) : t(`lists.${name}.why`)}</p>
      {name === 'measure' && all.length > 0 && <p class="small">{t('lists.measure.how', { colour: lacking(all, 'colour'), stems: lacking(all, 'stems') })}</p>}
      {name === 'divide' && all.length > 0 && <p class="small"><Icon name="care" /> {t('flags.care')}</p>}
      {bedByBed(farm, shown.map(({ plant }) => plant)).map(({ bed, plants }) => (
        <div key={bed?.id ?? ''}>
          <h3>{bed?.name ?? t('bed.unknown')}</h3>
          <ol class="rows flagged">
            {plants.map(({ id }) => of.get(id)).map((one) => one && <ProposedPlant key={one.plant.id} farm={farm} name={name} one={one} />)}
          </ol>
        </div>
      ))}
      {name === 'measure' && all.length > few && <button type="button" class="btn" aria-expanded={open} onClick={() => setOpen(!open)}>{open ? t('colours.fewer') : t('colours.all', { n: all.length })}</button>}
    </section>
  )
}

function ProposedPlant({ farm, name, one }: { readonly farm: Farm; readonly name: ListName; readonly one: Proposal }) {
  const kind = flagOf[name]
  return (
    <li>
      <a class="line" href={href('beds', 'plant', one.plant.id)}>
        <Head swatch={one.measured ? hexOf(one.measured.colour.lab) : swatchOf(farm, one.plant)} size={36} />
        <span>
          <b>{one.plant.code}</b> <span class="small block">{whereStands(farm, one.plant)}</span>
        </span>
      </a>
      {kind && <FlagTap kind={kind} one={one} />}
      <p class="why"><Reasons farm={farm} one={one} /></p>
    </li>
  )
}

const tones: readonly Tone[] = ['for', 'against', 'also', 'missing', 'care']

function Reasons({ farm, one }: { readonly farm: Farm; readonly one: Proposal }) {
  const of = (tone: Tone): Reason[] => one.reasons.filter((reason) => reason.tone === tone)
  return (
    <>
      {tones.filter((tone) => of(tone).length > 0).map((tone) => (
        <span key={tone} class={tone === 'for' || tone === 'against' ? 'block reasons' : 'small block reasons'}>
          {t(`lists.tone.${tone}`, { why: of(tone).map(({ why }) => reasonWords(farm, one, why)).join(', ') })}
        </span>
      ))}
    </>
  )
}

interface FlagTapProps {
  readonly kind: FlagKind
  readonly one: Proposal
}

/** Raises the flag, and takes it back. */
function FlagTap({ kind, one: { plant } }: FlagTapProps) {
  const notebook = useNotebook()
  const may = useRights()
  const [problem, setProblem] = useState('')
  const stands = standingFlag(notebook.farm.value.plants.get(plant.id) ?? plant, kind) !== undefined
  const tap = async () => {
    try {
      await notebook.recordInTurn(() => ({
        facts: toggleFacts(notebook.farm.peek(), plant.id, kind, today.peek(), notebook.person.peek()), alongside: {},
      }))
      setProblem('')
      announce(t(stands ? 'flags.cleared' : 'flags.raised', { flag: t(`flag.${kind}`), code: plant.code }))
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  if (!may.record) return stands ? <span class="small"><Icon name="flagged" /> {t(`flag.${kind}`)}</span> : null
  return (
    <>
      <button type="button" class="btn" aria-pressed={stands} aria-label={t('lists.flag.of', { flag: t(`flag.${kind}`), code: plant.code })} onClick={() => void tap()}>
        <Icon name={stands ? 'flagged' : 'flag'} />{t(`flag.${kind}`)}
      </button>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </>
  )
}
