// How open the head is and what light it stands in: a tap each.

import type { Light, Stage } from '../crop/nouns'
import { t } from '../messages/messages'

export const stages: readonly Stage[] = ['opening', 'full', 'fading']
export const lights: readonly Light[] = ['shade', 'overcast', 'sun', 'indoors']

interface StageAndLightProps {
  readonly stage: Stage | undefined
  readonly light: Light | undefined
  /** The light is that of the photo before, and nobody has said it of this one. */
  readonly asBefore: boolean
  readonly onStage: (stage: Stage) => void
  readonly onLight: (light: Light) => void
}

export function StageAndLight({ stage, light, asBefore, onStage, onLight }: StageAndLightProps) {
  return (
    <div class="told-by-eye">
      <fieldset class="field">
        <legend>{t('measuring.stage')}</legend>
        <div class="choices of-stage">
          {stages.map((one) => <button key={one} type="button" class="btn" aria-pressed={one === stage} onClick={() => onStage(one)}>{t(`measuring.stage.${one}`)}</button>)}
        </div>
      </fieldset>
      <fieldset class="field">
        <legend>{t(asBefore ? 'measuring.light.kept' : 'measuring.light')}</legend>
        <div class="choices of-light">
          {lights.map((one) => <button key={one} type="button" class="btn" aria-pressed={one === light} onClick={() => onLight(one)}>{t(`measuring.light.${one}`)}</button>)}
        </div>
      </fieldset>
      {light === 'sun' && <p class="note warn" role="status">{t('measuring.warn.sun')}</p>}
      {stage && stage !== 'full' && <p class="note warn" role="status">{t(`measuring.warn.${stage}`)}</p>}
    </div>
  )
}
