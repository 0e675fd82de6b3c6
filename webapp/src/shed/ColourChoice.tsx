// The colour class of what lies on the bench, each with its head beside its name.

import type { ColourID, Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'

interface ColourChoiceProps {
  readonly farm: Farm
  readonly chosen: ColourID | ''
  readonly onChoose: (colour: ColourID | '') => void
}

export function ColourChoice({ farm, chosen, onChoose }: ColourChoiceProps) {
  const colours = [...farm.colours.values()].sort((a, b) => a.name.localeCompare(b.name))
  return (
    <fieldset class="field">
      <legend>{t('bench.colour')}</legend>
      <div class="choices">
        {colours.map(({ id, name, swatch }) => (
          <button key={id} type="button" class="btn colour" aria-pressed={chosen === id} onClick={() => onChoose(id)}>
            <Head swatch={swatch} size={30} />{name}
          </button>
        ))}
        <button type="button" class="btn colour" aria-pressed={chosen === ''} onClick={() => onChoose('')}>
          <Head swatch="" size={30} />{t('bench.colour.mixed')}
        </button>
      </div>
    </fieldset>
  )
}
