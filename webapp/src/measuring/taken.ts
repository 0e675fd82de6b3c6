// A picture that was taken and measured, and the reading that it makes.

import type { Measurement, Point } from '../colourcard/measurement'
import type { CardID, Day, HeadBox, Light, NewReading, PersonID, PhotoHash, PlantID, ReadingID, Stage } from '../crop/nouns'

export interface Taken {
  /** As it is shown. */
  readonly picture: Blob
  /** Its upright size in pixels. */
  readonly width: number
  readonly height: number
  readonly measurement: Measurement
  /** The same text for the same camera; '' is not known. */
  readonly camera: string
  /** A file, and not what the camera saw just now. */
  readonly fromFile: boolean
  /** The day on which a file says that it was taken; '' of one that says none, and of what the camera saw just now. */
  readonly day: Day | ''
}

/** What only a person sees. */
export interface Told {
  readonly stage: Stage
  readonly light: Light
}

interface Circumstances extends Told {
  readonly id: ReadingID
  readonly plant: PlantID
  readonly today: Day
  readonly person: PersonID | ''
  /** '' where the picture was not kept. */
  readonly photo: PhotoHash | ''
}

/** The reading to record; undefined where the photo was refused. */
export function readingOf(taken: Taken, { today, ...circumstances }: Circumstances): NewReading | undefined {
  const { lab, se, spread, spreadSE, card, head, quality, problems, refused } = taken.measurement
  if (refused || !lab || !se) return undefined
  return {
    ...circumstances, date: dayOf(taken, today), lab, se, quality, problems,
    spread: (spread ?? 0) * 10, spreadSE: spread === undefined ? 0 : (spreadSE ?? 0) * 10,
    card: (card?.batch ?? '') as CardID | '', camera: taken.camera,
    head: head && boxOf(head.outline, taken),
  }
}

/** The day of a photo: no file is of a day to come, whatever its camera's clock said. */
export function dayOf({ day }: Pick<Taken, 'day'>, today: Day): Day {
  return day !== '' && day <= today ? day : today
}

/** What is to be said of a photo's day: nothing of one taken today, as the camera does or the file says. */
export type DayTold = 'today' | 'before' | 'untold' | 'ahead'

export function dayTold({ day, fromFile }: Pick<Taken, 'day' | 'fromFile'>, today: Day): DayTold {
  if (day === '') return fromFile ? 'untold' : 'today'
  if (day === today) return 'today'
  return day < today ? 'before' : 'ahead'
}

/** The box around an outline, as parts of the picture; what reaches beyond the picture is cut. */
export function boxOf(outline: readonly Point[], { width, height }: Pick<Taken, 'width' | 'height'>): HeadBox | undefined {
  if (outline.length === 0) return undefined
  const [left, right] = bounds(outline.map(({ x }) => x / width))
  const [top, bottom] = bounds(outline.map(({ y }) => y / height))
  return { x: left, y: top, width: right - left, height: bottom - top }
}

function bounds(values: readonly number[]): readonly [number, number] {
  const within = values.map((value) => Math.min(1, Math.max(0, value)))
  return [Math.min(...within), Math.max(...within)]
}
