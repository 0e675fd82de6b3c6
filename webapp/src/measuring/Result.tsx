// The photo and what came of it: corrected by a touch, told how open and in what light, kept or taken again.

import { useState } from 'preact/hooks'
import type { Light, Plant, Reading, Stage } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { PhotoProblem } from '../photos/problem'
import { photoFailure } from '../ui/photo_failure'
import { today } from '../ui/today'
import { HeadPhoto } from './HeadPhoto'
import { ColourNumbers, MeasuredColour, ProblemNotes } from './MeasuredColour'
import type { Measurer } from './measurer'
import { OtherTag } from './OtherTag'
import { StageAndLight } from './StageAndLight'
import { dayTold, type Taken } from './taken'
import { lightBefore, rememberLight } from './told_before'
import { type Correcting, useCorrecting, useKeeping } from './use_result'

interface ResultProps {
  readonly measurer: Measurer
  readonly plant: Plant
  readonly taken: Taken
  /** Measured anew, where somebody touched the head. */
  readonly onTaken: (taken: Taken) => void
  readonly onPlant: (plant: Plant) => void
  readonly onAgain: () => void
  readonly onKept: (reading: Reading) => void
}

export function Result({ measurer, plant, taken, onTaken, onPlant, onAgain, onKept }: ResultProps) {
  const [stage, setStage] = useState<Stage | undefined>(undefined)
  const [light, setLight] = useState<Light | undefined>(() => lightBefore())
  const [asBefore, setAsBefore] = useState(light !== undefined)
  const correcting = useCorrecting(measurer, taken, onTaken)
  const { busy, failure, keep } = useKeeping(measurer, plant, taken, onKept)
  const { measurement } = taken
  const told = stage && light && { stage, light }
  const chooseLight = (one: Light) => {
    rememberLight(one)
    setAsBefore(false)
    setLight(one)
  }
  return (
    <div class="measure-result">
      <div class="result-photo">
        <HeadPhoto taken={taken} onTouch={correcting.touch} />
        <Correct correcting={correcting} found={measurement.head !== undefined} />
      </div>
      <div class="result-told">
        <MeasuredColour measurement={measurement} />
        <CountsFor taken={taken} />
        <OtherTag measurer={measurer} plant={plant} onPlant={onPlant} />
        {!measurement.refused && <StageAndLight stage={stage} light={light} asBefore={asBefore} onStage={setStage} onLight={chooseLight} />}
        {!measurement.refused && <ProblemNotes problems={measurement.problems} />}
        {measurement.lab && <ColourNumbers lab={measurement.lab} />}
        {failure !== undefined && (
          <div class="note stop" role="alert">
            <p>{photoFailure(failure)}</p>
            {failure instanceof PhotoProblem && told && <button type="button" class="btn" onClick={() => keep(told, false)}>{t('measuring.keep.bare')}</button>}
          </div>
        )}
        {measurement.refused
          ? <div class="measure-foot"><div class="act two"><button type="button" class="btn main" onClick={onAgain}>{t('measuring.again')}</button></div></div>
          : (
            <div class="measure-foot">
              <div class="act half">
                <button type="button" class="btn tall" disabled={busy} onClick={onAgain}>{t('measuring.again')}</button>
                <button type="button" class="btn main" disabled={!told || busy || correcting.busy} onClick={() => told && keep(told, true)}>
                  {t(busy ? 'measuring.keeping' : told ? 'measuring.keep' : 'measuring.tell_first')}
                </button>
              </div>
            </div>
          )}
      </div>
    </div>
  )
}

/** For which day it counts, where that is not plain. */
function CountsFor({ taken }: Pick<ResultProps, 'taken'>) {
  const told = dayTold(taken, today.value)
  if (told === 'today') return null
  const text = t(`measuring.day.${told}`, { day: dayName(taken.day, today.value) })
  return told === 'before' ? <p class="small">{text}</p> : <p class="note warn" role="status">{text}</p>
}

function Correct({ correcting: { busy, touched, failed, touch }, found }: { readonly correcting: Correcting; readonly found: boolean }) {
  const said = touched ? (found ? 'measuring.corrected' : 'measuring.touched_none') : 'measuring.correct'
  return (
    <div class="correct">
      <p class="small" role="status">{t(busy ? 'measuring.busy.measuring' : failed ? 'measuring.correct.failed' : said)}</p>
      {touched && <button type="button" class="btn" onClick={() => touch(undefined)}>{t('measuring.propose')}</button>}
    </div>
  )
}
