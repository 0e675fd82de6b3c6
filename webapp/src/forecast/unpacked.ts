// The draws of the shed's answer, unpacked once for all who ask, in a worker where there are any.

import { type Signal, signal } from '@preact/signals'
import type { Fetching } from '../ui/shed_answer'
import { type Draws, unpackDraws } from './draws'
import type { ForecastAnswer, PackedDraws } from './forecast'
import type { Unpacking } from './unpack_worker'

/** Draws, or that they are being unpacked, or cannot be read, which is told to the console once. */
export type Unpacked = Draws | 'unpacking' | 'unreadable'

const known = new WeakMap<ForecastAnswer, Signal<Unpacked>>()
/** Those that were unpacked last. */
let last: { readonly packed: PackedDraws; readonly draws: Draws } | undefined

/** Begins to unpack them when first asked; whoever reads it where signals are followed hears when they are. */
export function drawsOf(answer: ForecastAnswer): Unpacked {
  let draws = known.get(answer)
  if (draws === undefined) {
    draws = signal<Unpacked>('unpacking')
    known.set(answer, draws)
    if (last && isSame(last.packed, answer.draws)) draws.value = last.draws
    else if (typeof Worker === 'undefined') keep(answer.draws, unpackedHere(answer.draws), draws)
    else unpackAside(answer.draws, draws)
  }
  return draws.value
}

/** The same for a page: while a new forecast is unpacked, the one before stays on it. */
export function drawsToShow(answer: ForecastAnswer): Unpacked {
  const draws = drawsOf(answer)
  return draws === 'unpacking' && last ? last.draws : draws
}

/** A shed that is asked again mostly says the same. */
function isSame(a: PackedDraws, b: PackedDraws): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b)
}

function keep(packed: PackedDraws, draws: Unpacked, into: Signal<Unpacked>): void {
  if (typeof draws === 'object') last = { packed, draws }
  into.value = draws
}

/** Says why there are none to ask. */
export function whyNoDraws(draws: Unpacked | undefined, fetching: Fetching) {
  if (draws === 'unpacking') return 'forecast.unpacking'
  if (draws === 'unreadable') return 'promise.forecast.unreadable'
  return fetching === 'yes' ? 'promise.forecast.asking' : 'promise.forecast.none'
}

/** In a worker of its own, which ends with it: a new forecast is a matter of hours. */
function unpackAside(packed: PackedDraws, into: Signal<Unpacked>): void {
  const worker = new Worker(new URL('./unpack_worker.ts', import.meta.url), { type: 'module' })
  const done = (draws: Unpacked) => {
    worker.terminate()
    keep(packed, draws, into)
  }
  worker.addEventListener('message', ({ data }: MessageEvent<Unpacking>) => done('draws' in data ? data.draws : unreadable(data.failed)))
  worker.addEventListener('error', ({ message }) => {
    console.error('running the worker that unpacks the forecast; it is unpacked here', message)
    done(unpackedHere(packed))
  })
  worker.postMessage(packed)
}

function unpackedHere(packed: PackedDraws): Unpacked {
  try {
    return unpackDraws(packed)
  } catch (reason) {
    return unreadable(reason)
  }
}

function unreadable(reason: unknown): Unpacked {
  console.error('unpacking the forecast', reason)
  return 'unreadable'
}
