// The seasons of a bed's picture, to slide through.

import { t } from '../messages/messages'
import type { Season } from '../crop/nouns'

interface BedPictureSeasonsProps {
  readonly seasons: readonly Season[]
  readonly shown: Season
  readonly onShow: (season: Season) => void
}

export function BedPictureSeasons({ seasons, shown, onShow }: BedPictureSeasonsProps) {
  const at = seasons.indexOf(shown)
  const show = (value: string) => {
    const season = seasons[Number(value)]
    if (season !== undefined) onShow(season)
  }
  return (
    <div class="picture-seasons">
      <output class="year" aria-hidden="true">{String(shown)}</output>
      {seasons.length > 1 && (
        <div class="slide">
          <div class="dots" aria-hidden="true">{seasons.map((season) => <i key={season} />)}</div>
          <input
            type="range" min="0" max={seasons.length - 1} step="1" value={at} aria-label={t('picture.season')}
            aria-valuetext={String(shown)} onInput={(event) => show(event.currentTarget.value)}
          />
        </div>
      )}
    </div>
  )
}
