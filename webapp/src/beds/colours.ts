// What the shed says of each crop's measured colours.

import type { Day } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { type ColourReport, isColourReport } from './colour_report'
import { having, listOf, numeric, text } from '../ui/json_form'
import { ShedAnswer } from '../ui/shed_answer'

export interface ColoursAnswer {
  /** The farm's newest arrival number that went in. */
  readonly arrival: number
  readonly asof: Day
  readonly species: readonly SpeciesColour[]
}

export interface SpeciesColour {
  readonly species: string
  readonly report: ColourReport
  /** Readings that no photo can have given. */
  readonly left_out: number
}

export const shed = new ShedAnswer<ColoursAnswer>({ path: '/api/colour', kept: 'colour.answer', isAnswer: isColoursAnswer })

export const { answer, fetching } = shed

/** Shows what the device has. */
export function readColours(notebook: Notebook): void {
  shed.read(notebook)
}

/** Shows what the device has and, while the link is live, asks the shed anew. */
export function refreshColours(notebook: Notebook): Promise<void> {
  return shed.refresh(notebook)
}

const form = having({ arrival: numeric, asof: text, species: listOf(having({ species: text, report: isColourReport, left_out: numeric })) })

export function isColoursAnswer(value: unknown): value is ColoursAnswer {
  return form(value)
}
