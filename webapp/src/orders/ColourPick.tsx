// Colour classes chosen by their flower heads: as many as are wanted, or none where every colour will do.

import type { ColourID, Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'

interface ColourPickProps {
  readonly farm: Farm
  readonly label: string
  readonly chosen: readonly ColourID[]
  /** What choosing none is called; without it there is no such choice. */
  readonly none?: string
  readonly without?: ColourID
  readonly onChoose: (colours: readonly ColourID[]) => void
}

export function ColourPick({ farm, label, chosen, none, without, onChoose }: ColourPickProps) {
  const colours = [...farm.colours.values()].filter(({ id }) => id !== without).sort((a, b) => a.name.localeCompare(b.name))
  const toggle = (id: ColourID) => onChoose(chosen.includes(id) ? chosen.filter((one) => one !== id) : [...chosen, id])
  return (
    <fieldset class="field">
      <legend>{label}</legend>
      <div class="choices">
        {colours.map(({ id, name, swatch }) => (
          <button key={id} type="button" class="btn colour" aria-pressed={chosen.includes(id)} onClick={() => toggle(id)}>
            <Head swatch={swatch} size={34} />{name}
          </button>
        ))}
        {none !== undefined && <button type="button" class="btn colour" aria-pressed={chosen.length === 0} onClick={() => onChoose([])}><Head swatch="" size={34} />{none}</button>}
      </div>
      {colours.length === 0 && <p class="small">{t('orders.colours.none')}</p>}
    </fieldset>
  )
}

/** The heads of colours, small, beside the words that name them. */
export function Swatches({ farm, colours }: { readonly farm: Farm; readonly colours: readonly ColourID[] }) {
  if (colours.length === 0) return null
  return <span class="swatches">{colours.slice(0, 6).map((id) => <Head key={id} swatch={farm.colours.get(id)?.swatch ?? ''} size={22} />)}</span>
}
