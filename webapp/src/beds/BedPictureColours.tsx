// In which colours a bed's picture is drawn: those of its plants' classes, or as they were measured.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { colourSettings, setMeasured } from './colour_settings'

export function BedPictureColours() {
  const notebook = useNotebook()
  const { measured } = colourSettings.value
  return (
    <div class="picture-colours choices" role="group" aria-label={t('picture.colours')}>
      <button type="button" class="btn" aria-pressed={!measured} onClick={() => void setMeasured(notebook, false)}>{t('picture.colours.classes')}</button>
      <button type="button" class="btn" aria-pressed={measured} onClick={() => void setMeasured(notebook, true)}>{t('picture.colours.measured')}</button>
    </div>
  )
}
