// How measured colours and batches of colour cards are written and read. Mirrors internal/farm/readings.go.

import { int, setAt, text } from '../log/read'
import type { Entity } from '../log/state'
import type { Card, CardHow, CardID, Day, HeadBox, Lab, Light, PersonID, PhotoHash, PlantID, Reading, ReadingID, Stage } from './nouns'

/** A reading; undefined where it does not tell its colour yet. */
export function readReading(e: Entity): Reading | undefined {
  const [lab, se] = [parseLab(text(e, 'lab')), parseLab(text(e, 'se'))]
  if (!lab || !se) return undefined
  return {
    id: e.key.id as ReadingID,
    plant: text(e, 'plant') as PlantID,
    date: text(e, 'date') as Day,
    person: text(e, 'person') as PersonID | '',
    lab,
    se,
    spread: int(e, 'spread') / 10,
    spreadSE: int(e, 'spread_se') / 10,
    stage: text(e, 'stage') as Stage | '',
    light: text(e, 'light') as Light | '',
    card: text(e, 'card') as CardID | '',
    camera: text(e, 'camera'),
    photo: text(e, 'photo') as PhotoHash | '',
    head: parseHead(text(e, 'head')),
    quality: int(e, 'quality'),
    problems: text(e, 'problems').split(' ').filter((word) => word !== ''),
    at: setAt(e, 'lab'), // said as it is recorded, and never changed
  }
}

export function readCard(e: Entity): Card {
  return {
    id: e.key.id as CardID,
    printed: text(e, 'printed') as Day | '',
    patches: parseLabs(text(e, 'patches')) ?? [],
    se: int(e, 'se') / 100,
    how: text(e, 'how') as CardHow | '',
    measured: text(e, 'measured') as Day | '',
    retired: text(e, 'retired') as Day | '',
    scale: int(e, 'scale') / 100,
  }
}

/** Writes a colour in hundredths: "5821/-1203/3344". */
export function formatLab({ L, a, b }: Lab): string {
  return [L, a, b].map((part) => `${Math.round(part * 100)}`).join('/')
}

/** Reads what formatLab writes. */
export function parseLab(written: string): Lab | undefined {
  const [, l, a, b] = /^(\d{1,5})\/(-?\d{1,5})\/(-?\d{1,5})$/.exec(written) ?? []
  if (l === undefined || a === undefined || b === undefined) return undefined
  return { L: Number(l) / 100, a: Number(a) / 100, b: Number(b) / 100 }
}

export function formatLabs(all: readonly Lab[]): string {
  return all.map(formatLab).join(' ')
}

/** Reads what formatLabs writes; '' is none. */
export function parseLabs(written: string): readonly Lab[] | undefined {
  const all = written.split(' ').filter((one) => one !== '').map(parseLab)
  return all.every((one) => one !== undefined) ? all : undefined
}

const tenThousand = 10_000

/** Writes where a head is in its photo, in ten-thousandths of the photo's width and height. */
export function formatHead({ x, y, width, height }: HeadBox): string {
  return [x, y, width, height].map((part) => `${Math.round(part * tenThousand)}`).join('/')
}

function parseHead(written: string): HeadBox | undefined {
  const parts = written.split('/').map(Number)
  const [x, y, width, height] = parts.map((part) => part / tenThousand)
  if (parts.length !== 4 || !parts.every((part) => part >= 0)) return undefined
  return { x: x!, y: y!, width: width!, height: height! }
}
