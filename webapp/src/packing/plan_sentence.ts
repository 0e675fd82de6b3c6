// The sentence that leads the plan, and how many bunches were packed since.

import { t } from '../messages/messages'
import type { DueLine } from './due_lines'
import type { PackingAnswer } from './packing_answer'

export function planSentence(answer: PackingAnswer, lines: readonly DueLine[]): string {
  const wanted = lines.reduce((sum, { line }) => sum + line.bunches, 0)
  const packed = lines.reduce((sum, { line, packed: { bunches } }) => sum + Math.min(bunches, line.bunches), 0)
  const done = wanted > 0 && packed >= wanted
  const placed = { placed: answer.placed, stems: answer.stems }
  const plan = done ? t('packing.say.done')
    : answer.stems === 0 ? t('packing.say.stemless')
      : t(answer.proven ? 'packing.say' : 'packing.say.unproven', placed)
  return packed === 0 ? plan : `${plan} ${t('packing.packed_of', { packed, n: wanted })}`
}

/** Bunches that were packed since, of lines that the plan knows. */
export function packedSince(answer: PackingAnswer, lines: readonly DueLine[]): number {
  const before = new Map(answer.lines.map(({ line, packed }) => [line, packed]))
  return Math.max(lines.reduce((sum, { line, packed: { bunches } }) => sum + bunches - (before.get(line.id) ?? bunches), 0), 0)
}
