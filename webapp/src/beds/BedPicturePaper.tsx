// A bed's picture on one sheet of paper, A4 or Letter: drawn at the printer's resolution when it is asked
// for, in the light theme's colours, with its name, season and key.

import { useEffect, useMemo, useRef } from 'preact/hooks'
import { t, words } from '../messages/messages'
import type { Picture } from './bed_picture'
import { inkOf } from './bed_picture_ink'
import { paint } from './bed_picture_paint'
import type { BedPast } from './bed_picture_past'
import { sceneOf } from './bed_picture_scene'
import { type Sheet, sheetFor, type Size } from './bed_picture_sheet'
import { Sprites } from './bed_picture_sprites'
import { tally, toldSaid } from './bed_picture_words'
import { BedPictureKey } from './BedPictureKey'

interface BedPicturePaperProps {
  readonly past: BedPast
  readonly picture: Picture
  /** Of all seasons, for the key. */
  readonly pictures: readonly Picture[]
  /** Of when the shed told who drifted; undefined where the picture is not in measured colours. */
  readonly whence: string | undefined
}

const pixelsPerMM = 96 / 25.4
/** What both papers leave within margins of 12 mm once the words have their room, in millimetres. */
const rooms: readonly Size[] = [{ width: 186, height: 195 }, { width: 255, height: 128 }]
/** Of it, what the words of measured colours take; the style sheet's is the same. */
const moreWords = 14

/** In CSS pixels. */
function roomsBeside(words: number): Size[] {
  return rooms.map(({ width, height }) => ({ width: width * pixelsPerMM, height: (height - words) * pixelsPerMM }))
}

/** 288 dots to the inch. */
const ratio = 3
/** Of the canvas, in the style sheet. */
const fontSize = 13

export function BedPicturePaper({ past, picture, pictures, whence }: BedPicturePaperProps) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const told = whence !== undefined
  const sheet = useMemo(() => largest(roomsBeside(told ? moreWords : 0).map((room) => sheetFor(past.ground, room, fontSize))), [past.ground, told])
  useEffect(() => whilePrinting(canvas.current, () => { if (canvas.current) drawOn(canvas.current, sheet, picture) }), [sheet, picture])
  const key = useMemo(() => <BedPictureKey past={past} pictures={pictures} scale={sheet.scale} pieces={sheet.strips.length} />, [past, pictures, sheet, words.value])
  const { standing, gone } = tally(picture)
  const plants = t('plants', { n: standing })
  const said = [gone > 0 ? t('picture.gone', { plants, n: gone }) : plants, ...(whence === undefined ? [] : [toldSaid(picture), whence])]
  return (
    <div class={`picture-paper ${sheet.down ? '' : 'across'} ${told ? 'told' : ''}`} aria-hidden="true">
      <h1>{t('picture.title', { bed: past.bed.name })} · {t('season', { year: String(picture.season) })}</h1>
      <p>{said.join(' · ')}</p>
      <canvas ref={canvas} style={{ width: `${sheet.width}px` }} />
      {key}
    </div>
  )
}

function largest(sheets: readonly Sheet[]): Sheet {
  return sheets.reduce((best, sheet) => (sheet.scale > best.scale ? sheet : best))
}

/** Draws before the browser prints, under the light theme, and gives the canvas's memory back afterwards. */
function whilePrinting(canvas: HTMLCanvasElement | null, draw: () => void): () => void {
  const root = document.documentElement
  let theme: string | undefined
  const before = () => {
    theme = root.dataset['theme']
    root.dataset['theme'] = 'light'
    draw()
  }
  const after = () => {
    if (theme !== undefined) root.dataset['theme'] = theme
    if (canvas) canvas.width = canvas.height = 0
  }
  addEventListener('beforeprint', before)
  addEventListener('afterprint', after)
  return () => {
    removeEventListener('beforeprint', before)
    removeEventListener('afterprint', after)
  }
}

function drawOn(canvas: HTMLCanvasElement, sheet: Sheet, picture: Picture): void {
  canvas.width = Math.ceil(sheet.width * ratio)
  canvas.height = Math.ceil(sheet.height * ratio)
  const ctx = canvas.getContext('2d', { alpha: false })
  if (!ctx) return
  const view = { zoom: 1, x: 0, y: 0 }
  paint(ctx, { scene: sceneOf(picture, sheet), view, room: sheet, ratio, sprites: new Sprites(inkOf(canvas)), codes: true, budget: Infinity })
}
