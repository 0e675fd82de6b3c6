// How open the heads of a bench total were when they were cut: one tap, left out by whoever does not care.

import { useState } from 'preact/hooks'
import type { Stage } from '../crop/nouns'
import { t } from '../messages/messages'
import { failureText } from '../ui/words'
import type { Bench } from './bench'

const stages: readonly Stage[] = ['opening', 'full', 'fading']

export function BenchStage({ bench }: { readonly bench: Bench }) {
  const [problem, setProblem] = useState('')
  const chosen = bench.stage()
  const tell = (stage: Stage) => {
    bench.tellStage(chosen === stage ? '' : stage).then(() => setProblem(''), (reason: unknown) => setProblem(failureText(reason)))
  }
  return (
    <fieldset class="field">
      <legend>{t('bench.stage')}</legend>
      <div class="choices bench-stage">
        {stages.map((stage) => <button key={stage} type="button" class="btn" aria-pressed={chosen === stage} onClick={() => tell(stage)}>{t(`stage.${stage}`)}</button>)}
      </div>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </fieldset>
  )
}
