// The sentence that leads the plan, and what became of it since.

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

/** Bunches that were packed since, and whether other lines are due now, or other numbers of bunches. */
export function packedSince(answer: PackingAnswer, lines: readonly DueLine[]): { readonly bunches: number; readonly changed: boolean } {
  const planned = new Map(answer.lines.map((one) => [one.line, one]))
  let bunches = 0
  let changed = planned.size !== lines.length
  for (const { line, packed } of lines) {
    const before = planned.get(line.id)
    if (!before) changed = true
    else {
      bunches += packed.bunches - before.packed
      changed ||= before.packed + before.more > line.bunches && before.more > 0
    }
  }
  return { bunches: Math.max(bunches, 0), changed }
}
