// A long list of stems, folded by colour class; a short one as it is.

import type { ComponentChildren } from 'preact'
import type { ColourID, Farm } from '../crop/nouns'
import { count, t } from '../messages/messages'
import './by-colour.css'
import { Head } from './Head'

/** So many rows are seen at a glance. */
const atAGlance = 8

interface ByColourProps<T> {
  readonly farm: Farm
  readonly of: readonly T[]
  readonly colour: (one: T) => ColourID | ''
  readonly stems: (one: T) => number
  /** A list item. */
  readonly row: (one: T) => ComponentChildren
}

export function ByColour<T>({ farm, of, colour, stems, row }: ByColourProps<T>) {
  if (of.length <= atAGlance) return <ul class="rows">{of.map(row)}</ul>
  const colours = [...new Set(of.map(colour))]
  return (
    <div class="by-colour">
      {colours.map((one) => {
        const those = of.filter((each) => colour(each) === one)
        const known = one === '' ? undefined : farm.colours.get(one)
        return (
          <details key={one}>
            <summary>
              <Head swatch={known?.swatch ?? ''} size={36} />
              <span>{known?.name ?? t('bench.colour.mixed')}</span>
              <span class="n">{count(those.reduce((sum, each) => sum + stems(each), 0))}</span>
            </summary>
            <ul class="rows">{those.map(row)}</ul>
          </details>
        )
      })}
    </div>
  )
}
