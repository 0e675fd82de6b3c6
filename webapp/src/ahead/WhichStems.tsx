// Of which stems the page tells: some colour classes, and from a grade on.

import type { ColourID } from '../crop/nouns'
import type { Draws } from '../forecast/draws'
import { everyStem, leastGrades, type Which } from '../forecast/sums'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { colourCalled } from '../ui/sale_words'
import { leastGradeName, whichSaid } from './to_come_sentence'

interface WhichStemsProps {
  readonly draws: Draws
  readonly which: Which
  readonly onChange: (which: Which) => void
}

export function WhichStems({ draws, which, onChange }: WhichStemsProps) {
  const farm = useNotebook().farm.value
  const said = whichSaid(farm, which)
  const toggle = (colour: ColourID | '') => {
    const on = which.colours.includes(colour)
    onChange({ ...which, colours: on ? which.colours.filter((one) => one !== colour) : [...which.colours, colour] })
  }
  return (
    <details class="ahead-numbers">
      <summary>{said === '' ? t('ahead.which') : t('ahead.which.chosen', { of: said })}</summary>
      <div class="ahead-which">
        {draws.colours.length > 1 && (
          <fieldset class="field">
            <legend>{t('ahead.colours')}</legend>
            <div class="choices">
              {draws.colours.map((colour) => (
                <button key={colour} type="button" class="btn colour" aria-pressed={which.colours.includes(colour)} onClick={() => toggle(colour)}>
                  <Head swatch={(colour !== '' && farm.colours.get(colour)?.swatch) || ''} size={26} />{colour === '' ? t('ahead.colour.untold') : colourCalled(farm, colour)}
                </button>
              ))}
            </div>
          </fieldset>
        )}
        <Choice
          name={t('ahead.grades')} value={which.grade} onChoose={(grade) => onChange({ ...which, grade })}
          options={[['', t('ahead.grade.all')] as const, ...leastGrades.map((grade) => [grade, leastGradeName(grade)] as const)]}
        />
        {said !== '' && <button type="button" class="btn" onClick={() => onChange(everyStem)}>{t('ahead.which.all')}</button>}
      </div>
    </details>
  )
}
