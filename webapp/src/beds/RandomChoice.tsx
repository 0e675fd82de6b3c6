// Choosing plants to count, at random and spread along the bed; the draw is shown before it is kept.

import { useState } from 'preact/hooks'
import type { Plant } from '../crop/nouns'
import { listed, t } from '../messages/messages'
import { wholeNumber } from '../ui/TotalEditor'
import { chooseSpread, newSeed } from './choose'

interface RandomChoiceProps {
  readonly plants: readonly Plant[]
  readonly onChoose: (chosen: readonly Plant[]) => void
}

export function RandomChoice({ plants, onChoose }: RandomChoiceProps) {
  const [text, setText] = useState(String(Math.min(24, plants.length)))
  const [seed, setSeed] = useState<number | undefined>(undefined)
  const wanted = wholeNumber(text, plants.length)
  const chosen = seed === undefined || wanted === undefined ? [] : chooseSpread(plants, wanted, seed)
  const keep = () => {
    setSeed(undefined)
    onChoose(chosen)
  }
  return (
    <div class="random">
      <label class="field">
        <span>{t('choose.how_many', { n: plants.length })}</span>
        <input inputMode="numeric" value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <button type="button" class="btn" disabled={!wanted} onClick={() => setSeed(newSeed())}>
        {chosen.length > 0 ? t('choose.again') : t('choose')}
      </button>
      {chosen.length > 0 && (
        <div class="drawn" role="status">
          <p>{listed(chosen.map((plant) => plant.code))}</p>
          <p class="small">{t('choose.seed', { seed: String(seed) })}</p>
          <button type="button" class="btn" onClick={keep}>{t('choose.keep', { n: chosen.length })}</button>
        </div>
      )}
    </div>
  )
}
