// The plant that was tapped in a bed's picture, in words.

import type { Farm, Season } from '../crop/nouns'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { href } from '../ui/route'
import type { Stood } from './bed_picture'
import { colourSaid, marksSaid, measuredSaid, stemsSaid } from './bed_picture_words'

interface BedPictureChosenProps {
  readonly farm: Farm
  readonly one: Stood
  readonly season: Season
}

export function BedPictureChosen({ farm, one, season }: BedPictureChosenProps) {
  const { plant, place, swatch, stems } = one
  const where = place ? t('place', { line: place.line, number: place.number }) : t('place.unknown')
  const marks = marksSaid(one)
  const measured = measuredSaid(one)
  return (
    <section class="picture-chosen" aria-label={t('picture.chosen')}>
      <a href={href('beds', 'plant', plant.id)}>
        <Head swatch={swatch} size={48} />
        <span>
          <span class="unseen">{t('picture.open')} </span><b class="code">{plant.code}</b> <span class="small">{where}</span>
          <span class="small block">{[colourSaid(farm, one), stemsSaid(stems, season)].join(' · ')}</span>
          {measured !== '' && <span class="small block">{measured}</span>}
          {marks !== '' && <b class="small block">{marks}</b>}
        </span>
        <Icon name="on" />
      </a>
    </section>
  )
}
