// A plant's heads season by season, the oldest first: each cut out of its photo with its numbers, and open to correction.
// A season that is folded shows its heads small, so that the seasons stand beside each other.

import { useState } from 'preact/hooks'
import type { Farm, Plant, Reading } from '../crop/nouns'
import { colourText, labText, readingSpreadText } from '../measuring/words'
import { dayAndMonth, decimal, t } from '../messages/messages'
import { Marked } from '../ui/Say'
import { useRights } from '../ui/rights'
import type { ColourReport } from './colour_report'
import { beyondScreen } from './colour_words'
import { type HeadReading, type HeadSeason, headSeasons } from './head_seasons'
import { HeadPicture } from './HeadPicture'
import { ReadingRight, WithdrawnReading } from './ReadingRight'

interface PlantHeadsProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly report: ColourReport | undefined
}

export function PlantHeads({ farm, plant, report }: PlantHeadsProps) {
  const seasons = headSeasons(farm, report, plant.id)
  const [away, setAway] = useState<readonly Reading[]>([])
  const shown = seasons.flatMap(({ heads }) => heads)
  return (
    <>
      {away.map((reading) => (
        <WithdrawnReading key={reading.id} reading={reading} onRestored={() => setAway((all) => all.filter((one) => one !== reading))} />
      ))}
      {seasons.length > 0 && (
        <ol class="head-seasons" aria-label={t('plant.heads')}>
          {seasons.map((one, i) => (
            <li key={one.season}>
              <Season farm={farm} one={one} startOpen={i === seasons.length - 1} onWithdrawn={(gone) => setAway((all) => [gone, ...all])} />
            </li>
          ))}
        </ol>
      )}
      {shown.some(({ away: of }) => of !== undefined) && <p class="small">{t('plant.heads.note')}</p>}
      {shown.some(({ reading: { photo, head } }) => photo !== '' && head) && <p class="small">{t('plant.heads.note.picture')}</p>}
    </>
  )
}

interface SeasonProps {
  readonly farm: Farm
  readonly one: HeadSeason
  readonly startOpen: boolean
  readonly onWithdrawn: (reading: Reading) => void
}

function Season({ farm, one, startOpen, onWithdrawn }: SeasonProps) {
  const [open, setOpen] = useState(startOpen)
  const { season, heads, stand } = one
  return (
    <details class="head-season" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <b>{season === 0 ? t('day.unknown') : String(season)}</b>
        {open ? <span class="small">{t('plant.heads.n', { n: heads.length })}</span> : <Small heads={heads} />}
        <SeasonOff one={one} />
      </summary>
      {open && stand && <p class="small">{t('plant.heads.stand', { n: decimal(stand.total.mean, 1), since: String(stand.since) })}</p>}
      {open && <ol class="heads">{heads.map((head) => <Tile key={head.reading.id} farm={farm} head={head} onWithdrawn={onWithdrawn} />)}</ol>}
    </details>
  )
}

/** As many as a phone has room for beside the season and its number. */
const mostSmall = 4

function Small({ heads }: Pick<HeadSeason, 'heads'>) {
  const more = heads.length - mostSmall
  return (
    <span class="small-heads">
      <span class="unseen">{t('plant.heads.n', { n: heads.length })}</span>
      {heads.slice(0, mostSmall).map(({ reading }) => <HeadPicture key={reading.id} reading={reading} />)}
      {more > 0 && <span class="small" aria-hidden="true">{t('plant.heads.more', { n: more })}</span>}
    </span>
  )
}

function SeasonOff({ one: { isBaseline, judged } }: { readonly one: HeadSeason }) {
  if (isBaseline) return <span class="small season-off">{t('plant.heads.baseline')}</span>
  if (!judged) return null
  if (!judged.shift) return <span class="small season-off">{t('colours.mark.cannot_tell')}</span>
  const { total } = judged.shift
  const told = judged.state !== 'cannot_tell'
  return (
    <span class="season-off">
      {told ? <Marked text={t('plant.heads.off', { n: decimal(total.mean, 1) })} /> : <span class="small">{t('plant.heads.off.untold', { n: decimal(total.mean, 1) })}</span>}
      <span class="small block">{t('ages.range', { lo: decimal(total.lo, 1), hi: decimal(total.hi, 1) })}</span>
      {!told && <span class="small block">{t('colours.mark.cannot_tell')}</span>}
    </span>
  )
}


interface TileProps {
  readonly farm: Farm
  readonly head: HeadReading
  readonly onWithdrawn: (reading: Reading) => void
}

function Tile({ farm, head, onWithdrawn }: TileProps) {
  const { reading } = head
  const may = useRights()
  const by = reading.person === '' ? undefined : farm.people.get(reading.person)?.name
  const seenIn = [reading.stage && t(`measuring.stage.${reading.stage}`), reading.light && t(`measuring.light.${reading.light}`)].filter(Boolean).join(', ')
  return (
    <li class="head-tile">
      <HeadPicture reading={reading} />
      <div class="head-told">
        <p><b>{reading.date === '' ? t('day.unknown') : dayAndMonth(reading.date)}</b> · {colourText(reading.lab)}</p>
        <Off away={head.away} />
        <p class="small">{labText(reading.lab)}</p>
        {beyondScreen(reading.lab) && <p class="small">{t('plant.heads.beyond')}</p>}
        <p class="small">{readingSpreadText(reading, farm.unit) ?? t('measuring.spread.none')}</p>
        <p class="small">{[seenIn, by].filter(Boolean).join(' · ')}</p>
      </div>
      <ReadingRight farm={farm} reading={reading} mayCorrect={may.record} onWithdrawn={onWithdrawn} />
    </li>
  )
}

function Off({ away }: Pick<HeadReading, 'away'>) {
  if (away === undefined) return null
  if (away === 'within') return <p class="small">{t('plant.heads.within')}</p>
  return <p><Marked text={t('plant.heads.away', { n: decimal(away.away, 1), se: decimal(away.se, 1) })} /></p>
}
