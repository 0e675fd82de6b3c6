// Fields that are kept once a season: "counted.2026".

import { fields, text } from '../log/read'
import type { Entity } from '../log/state'
import type { Season } from './nouns'

/** The texts of such a field, by season. */
export function bySeason(e: Entity, prefix: string): Map<Season, string> {
  const found = new Map<Season, string>()
  for (const field of fields(e)) {
    const year = field.startsWith(prefix) ? field.slice(prefix.length) : ''
    if (/^\d+$/.test(year)) found.set(Number(year) as Season, text(e, field))
  }
  return found
}
