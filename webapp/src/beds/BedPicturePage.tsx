// The bed as it is: the whole bed as one drawing, to scale, season by season, with the same in words beside it.

import { useMemo, useState } from 'preact/hooks'
import type { Bed, PlantID } from '../crop/nouns'
import { count, t, words } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { wide } from '../ui/wide'
import { allOf, pictureOf, pictureSeasons } from './bed_picture'
import './bed_picture.css'
import { pastOf } from './bed_picture_past'
import { tally, toldSaid } from './bed_picture_words'
import { BedPictureChosen } from './BedPictureChosen'
import { BedPictureColours } from './BedPictureColours'
import { BedPictureKey } from './BedPictureKey'
import { BedPictureList } from './BedPictureList'
import { BedPicturePaper } from './BedPicturePaper'
import { BedPictureSeasons } from './BedPictureSeasons'
import { BedPictureStage } from './BedPictureStage'
import { useMeasured } from './use_measured'

export function BedPicturePage({ bed }: { readonly bed: Bed }) {
  const farm = useNotebook().farm.value
  const day = today.value
  const past = useMemo(() => pastOf(farm, bed, day), [farm, bed, day])
  const seasons = useMemo(() => pictureSeasons(past), [past])
  const measured = useMeasured(past)
  const pictures = useMemo(() => seasons.map((season) => pictureOf(past, season, measured.shown)), [past, seasons, measured.shown])
  const [asked, setAsked] = useState<number | undefined>(undefined)
  const [laid, setLaid] = useState({ scale: 0, pieces: 1 })
  const [chosen, setChosen] = useState<PlantID | ''>('')
  // The same for all seasons: sliding through them does not draw it again.
  const key = useMemo(() => <BedPictureKey past={past} pictures={pictures} scale={laid.scale} pieces={laid.pieces} />, [past, pictures, laid, words.value])
  const picture = pictures[Math.min(asked ?? Infinity, pictures.length - 1)]
  const title = t('picture.title', { bed: bed.name })
  if (!picture) {
    return (
      <div class="bed-picture">
        <PageHead title={title} back={href('beds', 'bed', bed.id)} />
        <p class="page">{t('picture.empty')}</p>
      </div>
    )
  }
  const hint = <p class="small picture-hint">{t('picture.pick')}</p>
  const { standing, gone } = tally(picture)
  const plants = t('plants', { n: standing })
  const one = allOf(picture).find(({ plant }) => plant.id === chosen)
  const told = measured.shown && `${toldSaid(picture)} ${measured.whence}`
  const name = t('picture.name', { bed: bed.name, year: String(picture.season), plants, gone: count(gone) })
  return (
    <div class="bed-picture">
      <div class="picture-drawn">
        <PageHead title={title} back={href('beds', 'bed', bed.id)}>
          <span class="aside">{gone > 0 ? t('picture.gone', { plants, n: gone }) : plants}</span>
        </PageHead>
        {measured.isThere && <BedPictureColours />}
        <BedPictureStage
          picture={picture} ground={past.ground} chosen={chosen} name={told ? `${name} ${told}` : name} onChoose={setChosen}
          onLaid={setLaid}
        />
        <BedPictureSeasons seasons={seasons} shown={picture.season} onShow={(season) => setAsked(seasons.indexOf(season))} />
        {!wide.value && hint}
        {told && <p class="small picture-told">{told}</p>}
        {key}
      </div>
      <BedPictureList past={past} picture={picture} chosen={chosen} onChoose={setChosen} />
      {one ? <BedPictureChosen farm={farm} one={one} season={picture.season} /> : wide.value && <div class="picture-chosen">{hint}</div>}
      <BedPicturePaper past={past} picture={picture} pictures={pictures} whence={measured.shown && measured.whence} />
    </div>
  )
}
