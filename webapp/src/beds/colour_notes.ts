// What a reader must know of a judgement of colours, in the language in use.

import type { Farm, PlantID } from '../crop/nouns'
import { hasMessage, tCode } from '../messages/messages'
import { codeOf } from '../ui/words'
import type { Note } from '../ui/json_form'

/** In English where it is of a later version. */
export function colourNoteText(farm: Farm, { code, args, text }: Note): string {
  const key = `colours.note.${code}`
  if (!hasMessage(key)) return text
  const { readings, sessions, plant } = args
  return tCode(key, {
    ...args,
    // What it counts chooses the plural; a number of thousands is grouped as others are.
    ...((readings ?? sessions) !== undefined && { n: Number(readings ?? sessions) }), ...(args['of'] !== undefined && { of: Number(args['of']) }),
    // Of reference plants it counts them, of one that lies apart it names it.
    ...(code === 'reference_drifts' && plant !== undefined && { plant: codeOf(farm, plant as PlantID) }),
  })
}
