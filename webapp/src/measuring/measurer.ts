// Asks the worker that measures, so that the page never waits for it.

import wasm from 'zxing-wasm/reader/zxing_reader.wasm?url'
import type { CardSeen } from '../colourcard/characterise'
import type { Measurement, Point } from '../colourcard/measurement'
import type { Prepared } from '../photos/prepare'
import type { KnownCards } from './known_cards'
import type { Answer, Asked, CardBeside, FailureReason, Glimpse, Measured, Question, Step } from './worker_messages'

/** Nothing came of a picture. */
export class MeasuringProblem extends Error {
  constructor(readonly reason: FailureReason, message: string) {
    super(message)
    this.name = 'MeasuringProblem'
  }
}

/** Each call rejects with a MeasuringProblem. */
export interface Measurer {
  look(frame: ImageBitmap, cards: KnownCards): Promise<Glimpse>
  measure(still: Blob | ImageBitmap, cards: KnownCards, onStep: (step: Step) => void): Promise<Measured>
  /** Of the picture that was measured last. */
  again(touched: readonly Point[] | undefined, cards: KnownCards): Promise<Measurement>
  /** The colours of a batch's card, from a photo of it beside what is known. */
  characterise(still: Blob, batch: string, beside: CardBeside, onStep: (step: Step) => void): Promise<CardSeen>
  /** What its codes say that are no card's. */
  tags(): Promise<readonly string[]>
  prepare(): Promise<Prepared>
  /** Ends the worker; what is asked still is never answered but with a problem. */
  close(): void
}

interface Waiting {
  readonly resolve: (answer: Answer) => void
  readonly reject: (reason: Error) => void
  readonly onStep: (step: Step) => void
}

export function openMeasurer(): Measurer {
  const waiting = new Map<number, Waiting>()
  let last = 0
  let closed: Error | undefined
  const answered = ({ data }: MessageEvent<Answer>) => {
    const asked = waiting.get(data.id)
    if ('step' in data) return asked?.onStep(data.step)
    waiting.delete(data.id)
    if ('failed' in data) asked?.reject(new MeasuringProblem(data.failed, data.why))
    else asked?.resolve(data)
  }
  const giveUp = (reason: Error) => {
    worker?.terminate()
    worker = undefined
    for (const one of waiting.values()) one.reject(reason)
    waiting.clear()
  }
  const started = () => {
    const one = new Worker(new URL('./measure_worker.ts', import.meta.url), { type: 'module' })
    one.addEventListener('message', answered)
    one.addEventListener('error', (event) => giveUp(new MeasuringProblem('other', `running the worker that measures: ${event.message}`)))
    return one
  }
  let worker: Worker | undefined = started() // before it is asked anything, since it takes a while
  const ask = (question: Question, transfer: Transferable[] = [], onStep = (_: Step) => {}): Promise<Answer> => {
    if (closed) return Promise.reject(closed)
    // One that broke, for lack of memory perhaps, says nothing of the next.
    const asked = (worker ??= started())
    return new Promise((resolve, reject) => {
      waiting.set(++last, { resolve, reject, onStep })
      asked.postMessage({ ...question, id: last, wasm } satisfies Asked, transfer)
    })
  }
  return {
    look: async (frame, cards) => pick(await ask({ kind: 'look', frame, cards }, [frame]), 'glimpse'),
    measure: async (still, cards, onStep) =>
      pick(await ask({ kind: 'measure', still, cards }, still instanceof ImageBitmap ? [still] : [], onStep), 'measured'),
    again: async (touched, cards) => pick(await ask({ kind: 'again', touched, cards }), 'remeasured'),
    characterise: async (still, batch, beside, onStep) => pick(await ask({ kind: 'characterise', still, batch, beside }, [], onStep), 'cardSeen'),
    tags: async () => pick(await ask({ kind: 'tags' }), 'tags'),
    prepare: async () => pick(await ask({ kind: 'prepare' }), 'prepared'),
    close() {
      closed = new MeasuringProblem('other', 'the worker that measures was closed')
      giveUp(closed)
    },
  }
}

type Kinds = { cardSeen: CardSeen; glimpse: Glimpse; measured: Measured; remeasured: Measurement; tags: readonly string[]; prepared: Prepared }

function pick<K extends keyof Kinds>(answer: Answer, kind: K): Kinds[K] {
  if (!(kind in answer)) throw new MeasuringProblem('other', `asking the worker that measures: it answered with no ${kind}`)
  return (answer as unknown as Kinds)[kind]
}
