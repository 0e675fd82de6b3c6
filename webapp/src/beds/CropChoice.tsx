// Which crop is shown, where there are several.

import { t } from '../messages/messages'

interface Crop {
  readonly species: string
}

interface CropChoiceProps {
  readonly species: readonly Crop[]
  readonly shown: Crop | undefined
  readonly onChoose: (species: string) => void
}

export function CropChoice({ species, shown, onChoose }: CropChoiceProps) {
  if (species.length < 2) return shown ? <p class="small">{shown.species}</p> : null
  return (
    <div class="choices crops" role="group" aria-label={t('ages.crop')}>
      {species.map((one) => (
        <button key={one.species} type="button" class="btn" aria-pressed={one === shown} onClick={() => onChoose(one.species)}>
          {one.species || t('ages.no_species')}
        </button>
      ))}
    </div>
  )
}
