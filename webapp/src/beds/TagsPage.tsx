// Printing stake tags for the plants of a bed: which, on what paper, how many sheets that makes, and the PDF
// that the shed draws.

import { useState } from 'preact/hooks'
import type { Bed, PlantID, PlantingID } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { inReach } from '../sync/reach'
import { download, fileWord } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { keptPaper, type Paper, papers, usualPaper } from '../ui/paper'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { standingIn } from './bed'
import {
  mostTags, type NotPrinted, printTags, sheetsFor, type TagChoice, tagChoiceNames, tagChoices,
} from './tags'
import { TagsFailed } from './TagsFailed'

interface TagsPageProps {
  readonly bed: Bed
  /** What tags are wanted for above all: a plant, or a planting. */
  readonly asked: PlantID | PlantingID | ''
}

export function TagsPage({ bed, asked }: TagsPageProps) {
  const may = useRights()
  return (
    <div class="bed-page">
      <PageHead title={t('tags.title', { bed: bed.name })} back={href('beds', 'bed', bed.id)} />
      <div class="page">
        <p>{t('tags.who')}</p>
        {may.record ? <Printing bed={bed} asked={asked} /> : <p class="small">{t('tags.looks_on')}</p>}
      </div>
    </div>
  )
}

function Printing({ bed, asked }: TagsPageProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const reached = inReach(notebook.sync.value)
  const [paper, setPaper] = useState<Paper>(notebook.kept<Paper>(keptPaper) ?? usualPaper(navigator.languages))
  const [choice, setChoice] = useState<TagChoice>(asked === '' ? 'counted' : 'asked')
  const [stands, setStands] = useState<'open' | 'asked' | 'printed' | NotPrinted>('open')
  const day = today.value
  const of = { plants: standingIn(farm, bed.id, day), season: seasonOf(farm.calendar, day), day, farm, asked }
  const chosen = tagChoices[choice](of)
  const usePaper = (one: Paper) => {
    setPaper(one)
    setStands('open')
    void notebook.keep(keptPaper, one)
  }
  const print = async () => {
    setStands('asked')
    const sheets = await printTags(paper, chosen.map((plant) => plant.id))
    if (!(sheets instanceof Blob)) return setStands(sheets)
    download(sheets, `tags-${fileWord(bed.name, 'bed')}.pdf`)
    setStands('printed')
  }
  return (
    <>
      <Choices label={t('tags.which')} of={tagChoiceNames.filter((one) => one !== 'asked' || asked !== '')} chosen={choice} onChoose={(one) => { setChoice(one); setStands('open') }}
        words={(one) => t(`tags.choice.${one}`, { n: tagChoices[one](of).length })} />
      <Choices label={t('tags.paper')} of={papers} chosen={paper} onChoose={usePaper} words={(one) => t(`tags.paper.${one}`)} />
      <Say text={chosen.length === 0 ? t(`tags.none.${choice}`) : t('tags.say', { n: sheetsFor(chosen.length, paper), tags: t('tags.tags', { n: chosen.length }) })} />
      {chosen.length > mostTags && <p class="note warn">{t('tags.too_many', { most: mostTags })}</p>}
      {reached
        ? (
          <button type="button" class="btn main" disabled={stands === 'asked' || chosen.length === 0 || chosen.length > mostTags} onClick={() => void print()}>
            <Icon name="save" />{t(stands === 'asked' ? 'tags.drawing' : 'tags.print')}
          </button>
        )
        : <p class="note warn">{t('tags.offline')}</p>}
      <div role="status">{stands === 'printed' && <p class="note">{t('tags.printed')}</p>}</div>
      {typeof stands === 'object' && <TagsFailed {...stands} />}
      <p class="small">{t('tags.how')}</p>
    </>
  )
}

interface ChoicesProps<T extends string> {
  readonly label: string
  readonly of: readonly T[]
  readonly chosen: T
  readonly words: (one: T) => string
  readonly onChoose: (one: T) => void
}

function Choices<T extends string>({ label, of, chosen, words, onChoose }: ChoicesProps<T>) {
  return (
    <div class="field" role="group" aria-label={label}>
      <span aria-hidden="true">{label}</span>
      <div class="choices">
        {of.map((one) => (
          <button key={one} type="button" class="btn" aria-pressed={one === chosen} onClick={() => onChoose(one)}>{words(one)}</button>
        ))}
      </div>
    </div>
  )
}
