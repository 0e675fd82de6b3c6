// Which problems matter while the camera's picture is looked at.

import type { Measurement, Problem } from '../colourcard/measurement'

/** What is photographed: a head beside the card, or the card alone. */
export type Subject = 'head' | 'card'

const ofTheHead: ReadonlySet<Problem> = new Set(['no_head', 'head_apart', 'head_cut_off', 'head_unclear', 'out_of_plane'])

/** No way of holding the card mends these: they are told and wait for nobody. */
const ofTheBatch: ReadonlySet<Problem> = new Set(['unknown_card', 'faded_card'])

/** Those that a hand can mend now, and for which a picture waits. */
export function toMend({ problems, refused }: Pick<Measurement, 'problems' | 'refused'>, subject: Subject): Problem[] {
  // A batch that is not known is compared with what was sent to its printer. Some patches that are off may be covered, or
  // printed so: a picture that waited for them might wait for good.
  const asPrinted = problems.includes('unknown_card') && !refused
  return problems.filter((problem) => !ofTheBatch.has(problem) && concerns(problem, subject) && !(asPrinted && problem === 'covered'))
}

/** Those that say something of the batch in hand. */
export function ofBatch(problems: readonly Problem[]): Problem[] {
  return problems.filter((problem) => ofTheBatch.has(problem))
}

export function concerns(problem: Problem, subject: Subject): boolean {
  return subject === 'head' || !ofTheHead.has(problem)
}
