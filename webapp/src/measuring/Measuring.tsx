// Measuring a plant's colour: its camera, the wait, and what came of the photo. Who shows this says what comes next.

import type { ComponentChildren } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import type { Problem } from '../colourcard/measurement'
import type { Plant, PlantID, Reading } from '../crop/nouns'
import { t } from '../messages/messages'
import { foundFeedback } from '../ui/feedback'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { readByItself } from './by_itself'
import { CameraSight, type Shot } from './CameraSight'
import { knownCards } from './known_cards'
import { type Subject, toMend } from './live_problems'
import { type Measurer, MeasuringProblem } from './measurer'
import './measuring.css'
import { Result } from './Result'
import type { Taken } from './taken'
import { useMeasurer } from './use_measurer'
import type { FailureReason, Step } from './worker_messages'

interface MeasuringProps {
  readonly plant: Plant
  /** The plant that was asked for, where the photo turned out to be another's: another one asked for starts anew. */
  readonly asked?: PlantID
  readonly onKept: (reading: Reading) => void
  /** The photo turned out to be another plant's. */
  readonly onPlant: (plant: Plant) => void
  /** On a walk the head before may still be in sight when it goes on: then the picture is not taken by itself yet. */
  readonly walking?: boolean
  /** Above the main action of the camera: the last action. */
  readonly above?: ComponentChildren
  /** Beside it: what goes on without a photo. */
  readonly beside?: ComponentChildren
}

export function Measuring({ plant, asked = plant.id, onKept, onPlant, walking = false, above, beside }: MeasuringProps) {
  return (
    <Shooting subject="head" about={asked} walking={walking} above={above} beside={beside}>
      {({ measurer, taken, show, again, done }) => (
        <Result
          measurer={measurer} plant={plant} taken={taken} onTaken={show} onPlant={onPlant} onAgain={again}
          onKept={(reading) => { done(); onKept(reading) }}
        />
      )}
    </Shooting>
  )
}

interface Shown {
  readonly measurer: Measurer
  readonly taken: Taken
  readonly show: (taken: Taken) => void
  /** Back to the camera, for the same. */
  readonly again: () => void
  /** Back to the camera, for something else. */
  readonly done: () => void
}

interface ShootingProps {
  readonly subject: Subject
  /** What is photographed: another starts the camera anew. */
  readonly about: string
  readonly walking?: boolean
  readonly above?: ComponentChildren
  readonly beside?: ComponentChildren
  /** What is shown of a photo that was measured. */
  readonly children: (shown: Shown) => ComponentChildren
}

type Now =
  /** `again` where it was photographed just now, and is in sight for good reason. */
  | { readonly kind: 'camera'; readonly again: boolean; readonly failed?: FailureReason }
  | { readonly kind: 'busy'; readonly step: Step }
  | { readonly kind: 'taken'; readonly taken: Taken }

const beginning: Now = { kind: 'camera', again: false }

/** Takes a photo, of a head or of the card alone, and has it measured. */
export function Shooting({ subject, about, walking = false, above, beside, children }: ShootingProps) {
  const notebook = useNotebook()
  const { measurer, leave } = useMeasurer()
  const [of, setOf] = useState<Now & { readonly about: string }>(() => {
    readByItself(notebook)
    return { ...beginning, about }
  })
  // A photo of one plant is never shown as that of the next, however the next was come to.
  const state = of.about === about ? of : beginning
  const setState = (now: Now) => setOf({ ...now, about })
  // Who leaves a photo while it is measured is not told what became of it.
  const shots = useRef(0)
  useEffect(() => () => { shots.current++ }, [about])
  if (!measurer) return null
  const again = () => setState({ kind: 'camera', again: true })
  const measured = async ({ still, camera }: Shot, onStep: (step: Step) => void): Promise<Taken> => {
    const taken = await measurer.measure(still, knownCards(notebook.farm.peek(), today.peek()), onStep)
    return { ...taken, camera: camera || taken.camera, fromFile: still instanceof Blob }
  }
  const attempt = async (see: () => Promise<Shot>, isOver: () => boolean): Promise<Problem | undefined> => {
    const mine = shots.current
    const shot = await see()
    // Measured now, it would be at hand in the place of what was taken by hand meanwhile.
    if (mine !== shots.current || isOver()) {
      if (shot.still instanceof ImageBitmap) shot.still.close()
      return undefined
    }
    const taken = await measured(shot, () => {})
    const [problem] = toMend(taken.measurement, subject)
    if (problem !== undefined || mine !== shots.current || isOver()) return problem
    foundFeedback()
    setState({ kind: 'taken', taken })
    return undefined
  }
  const take = async (taking: Shot) => {
    const shot = ++shots.current
    const tell = (now: Now) => { if (shot === shots.current) setState(now) }
    tell({ kind: 'busy', step: 'opening' })
    try {
      tell({ kind: 'taken', taken: await measured(taking, (step) => tell({ kind: 'busy', step })) })
    } catch (reason) {
      if (shot === shots.current) console.error('measuring a photo', reason)
      tell({ kind: 'camera', again: true, failed: reason instanceof MeasuringProblem ? reason.reason : 'other' })
    }
  }
  const stop = () => {
    shots.current++
    leave()
    again()
  }
  if (state.kind === 'busy') return <Busy step={state.step} onLeave={stop} />
  if (state.kind === 'taken') return <>{children({ measurer, taken: state.taken, show: (taken) => setState({ kind: 'taken', taken }), again, done: () => setState(beginning) })}</>
  return (
    <>
      {state.failed && <p class="note stop" role="alert">{t(`measuring.failed.${state.failed}`)}</p>}
      <CameraSight
        key={about} measurer={measurer} subject={subject} stale={walking && !state.again} above={above} beside={beside} onTake={(shot) => void take(shot)} onTry={attempt}
      />
    </>
  )
}

function Busy({ step, onLeave }: { readonly step: Step; readonly onLeave: () => void }) {
  return (
    <div class="measure-busy">
      <p class="large" role="status">{t(`measuring.busy.${step}`)}</p>
      <progress class="meter" aria-label={t(`measuring.busy.${step}`)} />
      <button type="button" class="btn tall" onClick={onLeave}>{t('measuring.busy.leave')}</button>
    </div>
  )
}
