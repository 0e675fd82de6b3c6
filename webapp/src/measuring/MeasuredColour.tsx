// What came of a photo: the colour and how sure it is, and the head's width; of one that was refused, what is wrong.

import type { Measurement, Problem } from '../colourcard/measurement'
import type { Lab } from '../colour/lab'
import { show } from '../colour/shown'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Swatch } from './Swatch'
import { colourText, labText, measuredSpreadText, nearestText, problemShort, problemText, surenessText } from './words'

export function MeasuredColour({ measurement }: { readonly measurement: Measurement }) {
  const farm = useNotebook().farm.value
  const { lab, se, problems, refused } = measurement
  const measured = !refused && lab && se
  return (
    <section class="measured-colour">
      {measured
        ? (
          <div class="colour-told">
            <Swatch lab={lab} />
            <div>
              <p class="say"><b>{colourText(lab)}</b></p>
              <p>{surenessText(lab, se)}</p>
              <p>{measuredSpreadText(measurement, farm.unit) ?? t('measuring.spread.none')}</p>
            </div>
          </div>
        )
        : <p class="note stop" role="alert">{t('measuring.refused')}</p>}
      {measured && show(lab).mapped && <p class="small">{t('measuring.mapped')}</p>}
      {!measured && <ProblemNotes problems={refusing(problems)} refused />}
    </section>
  )
}

/** What a grower in the row can do without: they stand behind the questions. */
export function ColourNumbers({ lab }: { readonly lab: Lab }) {
  const farm = useNotebook().farm.value
  return <p class="small colour-numbers">{[labText(lab), nearestText(farm, lab)].filter(Boolean).join(' · ')}</p>
}

/** Without what alone would not have it refused. */
function refusing(problems: readonly Problem[]): readonly Problem[] {
  const others = problems.filter((problem) => problem !== 'unknown_card')
  return others.length > 0 ? others : problems
}

/** What is wrong, each with what to do. */
export function ProblemNotes({ problems, refused = false }: { readonly problems: readonly Problem[]; readonly refused?: boolean }) {
  return (
    <>
      {problems.map((problem) => (
        <p key={problem} class={refused ? 'note stop' : 'note warn'}><b>{problemShort(problem)}.</b> {problemText(problem)}</p>
      ))}
    </>
  )
}
