// The worker that measures: it opens a picture, reads its codes and measures it, so that the page never waits.
// The server lets scripts of this name, and no page, run wasm (server/httpapi/guards.go).

import { type CardProblem, type CardSeen, characterise, type Reference } from '../colourcard/characterise'
import { look, measure } from '../colourcard/measure'
import type { Asked as AskedOfPhoto, Measurement, Photo, Point, Problem } from '../colourcard/measurement'
import type { Day } from '../crop/nouns'
import { prepare } from '../photos/prepare'
import { PhotoProblem } from '../photos/problem'
import { loadWasm } from '../scan/wasm_codes'
import { readCodes, tagsIn } from './codes'
import { batchOn, type KnownCards } from './known_cards'
import { filePixels, framePixels, jpegOf } from './pictures'
import { toldByFile } from './told_by_file'
import type { Answer, Asked, CardBeside, FailureReason, Glimpse, Measured } from './worker_messages'

/** A picture at hand, with what its file says. */
interface Still {
  readonly picture: Blob
  readonly photo: Photo
  readonly camera: string
  readonly day: Day | ''
}

let still: Still | undefined

/** Pixels of the longer side of a frame that is looked at: as many as measuring looks at of a large photo. */
const lookedAt = 1000

/** One question after the other: two at once would each change what the other has at hand. */
let turn = Promise.resolve()

addEventListener('message', ({ data }: MessageEvent<Asked>) => { turn = turn.then(() => answer(data)) })

function say(told: Answer, transfer: Transferable[] = []): void {
  postMessage(told, { transfer })
}

async function answer(asked: Asked): Promise<void> {
  const { id } = asked
  try {
    await loadWasm(asked.wasm)
    switch (asked.kind) {
      case 'look': return say({ id, glimpse: await glimpseOf(asked.frame, asked.cards) })
      case 'measure': return say({ id, measured: await measured(asked.id, asked.still, asked.cards) })
      case 'again': return say({ id, remeasured: await measurementOf(atHand(), asked.cards, asked.touched) })
      case 'characterise': return say({ id, cardSeen: await cardSeen(asked.id, asked.still, asked.batch, asked.beside) })
      case 'tags': return say({ id, tags: await tagsIn(atHand().photo) })
      case 'prepare': {
        const prepared = await prepare(atHand().picture)
        return say({ id, prepared }, [prepared.bytes.buffer, prepared.small.buffer])
      }
    }
  } catch (reason) {
    say({ id, failed: reasonOf(reason), why: String(reason) })
  }
}

async function glimpseOf(frame: ImageBitmap, cards: KnownCards): Promise<Glimpse> {
  const photo = framePixels(frame, Math.min(1, lookedAt / Math.max(frame.width, frame.height)))
  frame.close()
  const { card, problems, refused } = await look(photo, readCodes, { cardOf: (batch) => cards.get(batch) })
  return { width: photo.width, height: photo.height, card, problems, refused }
}

async function measured(id: number, of: Blob | ImageBitmap, cards: KnownCards): Promise<Measured> {
  still = undefined // two would be more than a phone's memory has room for
  say({ id, step: 'opening' })
  const { finer, ...opened } = await (of instanceof Blob ? ofFile(of) : ofFrame(of))
  say({ id, step: 'measuring' })
  still = opened
  let measurement = await measurementOf(still, cards, undefined)
  if (finer && wantsMore(measurement)) {
    still = { ...opened, photo: await finer() }
    measurement = await measurementOf(still, cards, undefined)
  }
  const { picture, camera, day, photo: { width, height } } = still
  return { picture, width, height, measurement, camera, day }
}

async function cardSeen(id: number, file: Blob, batch: string, beside: CardBeside): Promise<CardSeen> {
  still = undefined
  say({ id, step: 'opening' })
  const { photo, finer } = await ofFile(file)
  say({ id, step: 'measuring' })
  const seen = await characterise(photo, readCodes, batch, referenceIn(photo, beside))
  if (!finer || !seen.problems.some((problem) => mendedByPixels.includes(problem))) return seen
  const whole = await finer()
  return characterise(whole, readCodes, batch, referenceIn(whole, beside))
}

const mendedByPixels: readonly CardProblem[] = ['no_card', 'other_card', 'no_reference', 'far', 'slanted', 'blurred']

function referenceIn({ width, height }: Photo, beside: CardBeside): Reference {
  if (beside.kind === 'card') return { kind: 'card', cardOf: (batch) => beside.cards.get(batch) }
  return { ...beside, at: { x: beside.at.x * width, y: beside.at.y * height } }
}

interface Opened extends Still {
  /** All of its pixels, where it was opened smaller. */
  readonly finer: (() => Promise<Photo>) | undefined
}

async function ofFile(file: Blob): Promise<Opened> {
  const { space, camera, day } = await toldByFile(file)
  const { photo, reduced } = await filePixels(file, space)
  return { picture: file, photo, camera, day, finer: reduced ? async () => (await filePixels(file, space, true)).photo : undefined }
}

async function ofFrame(frame: ImageBitmap): Promise<Opened> {
  const photo = framePixels(frame, 1)
  frame.close()
  return { picture: await jpegOf(photo), photo, camera: '', day: '', finer: undefined }
}

/** Whether more pixels may mend it: a card that is small or slanted. */
function wantsMore({ refused, problems }: Measurement): boolean {
  const finer: readonly Problem[] = ['no_card', 'far', 'slanted', 'blurred']
  return refused && problems.some((problem) => finer.includes(problem))
}

function measurementOf({ photo, day }: Still, cards: KnownCards, touched: readonly Point[] | undefined): Promise<Measurement> {
  const asked: AskedOfPhoto = { cardOf: (batch) => batchOn(cards.get(batch), day), ...(touched && { touched }) }
  return measure(photo, readCodes, asked)
}

function atHand(): Still {
  if (!still) throw new Error('measuring again: there is no picture at hand')
  return still
}

function reasonOf(reason: unknown): FailureReason {
  const problem = reason instanceof PhotoProblem ? reason.reason : undefined
  return problem === 'unreadable' || problem === 'pixels' ? problem : 'other'
}
