// A colour that is entered by hand: picked, or written as #rrggbb or as its three numbers in CIELAB.

import { useState } from 'preact/hooks'
import type { Lab } from '../colour/lab'
import { hexOf } from '../colour/shown'
import { t } from '../messages/messages'
import { labOfHex, labTyped } from './colour_nearest'

interface ColourFieldProps {
  readonly start: Lab | undefined
  readonly onColour: (lab: Lab) => void
}

export function ColourField({ start, onColour }: ColourFieldProps) {
  const [hex, setHex] = useState(start ? hexOf(start) : '')
  const [parts, setParts] = useState(partsOf(start))
  const fromHex = (written: string) => {
    setHex(written)
    const lab = labOfHex(written)
    if (!lab) return
    setParts(partsOf(lab))
    onColour(lab)
  }
  const fromParts = (change: Partial<Parts>) => {
    const now = { ...parts, ...change }
    setParts(now)
    const lab = labTyped(now.L, now.a, now.b)
    if (!lab) return
    setHex(hexOf(lab))
    onColour(lab)
  }
  const lacking = Object.values(parts).some((part) => part !== '') && !labTyped(parts.L, parts.a, parts.b)
  return (
    <fieldset class="field colour-field">
      <legend>{t('colours.hand')}</legend>
      <div class="colour-field-row">
        <label class="field"><span>{t('colours.hand.pick')}</span><input type="color" value={labOfHex(hex) ? hexOf(labOfHex(hex)!) : '#b23a52'} onInput={(event) => fromHex(event.currentTarget.value)} /></label>
        <label class="field"><span>{t('colours.hand.hex')}</span><input type="text" value={hex} spellcheck={false} autocapitalize="off" onInput={(event) => fromHex(event.currentTarget.value)} /></label>
      </div>
      <div class="colour-field-row">
        {(['L', 'a', 'b'] as const).map((part) => (
          <label key={part} class="field"><span>{t(`colours.hand.${part}`)}</span><input type="text" inputMode="text" value={parts[part]} onInput={(event) => fromParts({ [part]: event.currentTarget.value })} /></label>
        ))}
      </div>
      {lacking && <p class="small" role="status">{t('colours.hand.wrong')}</p>}
    </fieldset>
  )
}

interface Parts {
  readonly L: string
  readonly a: string
  readonly b: string
}

function partsOf(lab: Lab | undefined): Parts {
  const written = (value: number) => String(Math.round(value * 10) / 10)
  return lab ? { L: written(lab.L), a: written(lab.a), b: written(lab.b) } : { L: '', a: '', b: '' }
}
