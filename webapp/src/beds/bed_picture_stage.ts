// The canvas of a bed's picture: painted once a frame at most, at the device's own resolution and in the
// colours of the theme in use, and moved by hand without asking the page.

import type { PlantID } from '../crop/nouns'
import type { Picture } from './bed_picture'
import { Backdrop, widened } from './bed_picture_backdrop'
import { followGestures, type Moves } from './bed_picture_gestures'
import type { Ground } from './bed_picture_ground'
import { inkOf } from './bed_picture_ink'
import { paintChosen } from './bed_picture_marks'
import { paint, type Painting, prepare } from './bed_picture_paint'
import { nearest, pitchSeen, type Scene, sceneOf } from './bed_picture_scene'
import { sheetFor, type Size } from './bed_picture_sheet'
import { Sprites } from './bed_picture_sprites'
import { againSeen, fitted, moved, type ScreenPoint, showing, type View, zoomedAt } from './bed_picture_view'

export interface Shown {
  readonly picture: Picture
  readonly ground: Ground
  readonly chosen: PlantID | ''
}

/** How the whole bed lies in its room: pixels to a millimetre, and in how many pieces. */
export interface Laid {
  readonly scale: number
  readonly pieces: number
}

/** What may be made of sprites in a frame: while the picture moves, as another season is shown, and at first. */
const whileMoving = 8
const whileSliding = 100
const atFirst = 400
/** Milliseconds of a frame for sprites that the picture at rest still lacks, and before it is painted for the first time. */
const slice = 8
const firstSlice = 60
const buttonZoom = 1.6

export class Stage implements Moves {
  private shown: Shown | undefined
  private scene: Scene | undefined
  private room: Size = { width: 0, height: 0 }
  /** The room in which it was laid out. */
  private laidIn = this.room
  private view: View = { zoom: 1, x: 0, y: 0 }
  private sprites: Sprites
  /** Asked for; 0 is none. */
  private frame = 0
  private budget = 0
  /** Whether the picture is not drawn as it is, until it rests: sprites of other sizes stand in, or it was zoomed. */
  private rough = false
  /** Whether the next frame is for those sprites, since nothing else was asked for. */
  private resting = false
  private readonly backdrop = new Backdrop()
  private last: 'moved' | 'zoomed' | 'changed' = 'changed'
  private readonly endings: (() => void)[] = []

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly choose: (plant: PlantID | '') => void,
    private readonly tellLaid: (laid: Laid) => void,
  ) {
    this.sprites = new Sprites(inkOf(canvas))
    const resized = new ResizeObserver(() => this.fitRoom())
    resized.observe(canvas)
    const redressed = new MutationObserver(() => this.dress())
    redressed.observe(document.documentElement, { attributeFilter: ['data-theme'] })
    // The numbers along the edges are drawn in the page's own type once that is there.
    void document.fonts.ready.then(() => this.ask(atFirst))
    this.endings.push(followGestures(canvas, this), () => resized.disconnect(), () => redressed.disconnect())
  }

  close(): void {
    cancelAnimationFrame(this.frame)
    this.backdrop.drop()
    for (const end of this.endings) end()
  }

  show(shown: Shown): void {
    const before = this.shown
    this.shown = shown
    this.last = 'changed'
    // What came from another phone must not throw back who looks closely.
    if (!before || !isSame(before.ground, shown.ground)) this.lay(false)
    else if (before.picture !== shown.picture && this.scene) this.scene = sceneOf(shown.picture, this.scene.sheet)
    if (shown.chosen !== before?.chosen) this.bringIntoSight(shown.chosen)
    this.ask(before ? whileSliding : atFirst)
  }

  move(by: ScreenPoint): void {
    if (this.scene) this.see(moved(this.view, by, this.scene.sheet, this.room))
  }

  zoom(factor: number, about: ScreenPoint): boolean {
    if (!this.scene) return false
    const next = zoomedAt(this.view, factor, about, this.scene.sheet, this.room)
    const changes = next.zoom !== this.view.zoom
    this.see(next)
    return changes
  }

  zoomIn(): void {
    this.zoom(buttonZoom, this.middle())
  }

  zoomOut(): void {
    this.zoom(1 / buttonZoom, this.middle())
  }

  fit(): void {
    if (this.scene) this.see(fitted(this.scene.sheet, this.room))
  }

  tap(at: ScreenPoint): void {
    if (this.scene) this.choose(nearest(this.scene, this.view, at)?.head.plant.id ?? '')
  }

  private middle(): ScreenPoint {
    return { x: this.room.width / 2, y: this.room.height / 2 }
  }

  private see(view: View): void {
    this.last = view.zoom === this.view.zoom ? 'moved' : 'zoomed'
    this.view = view
    this.ask(whileMoving)
  }

  private bringIntoSight(plant: PlantID | ''): void {
    const dot = this.scene?.dots.find(({ head }) => head.plant.id === plant)
    if (dot && this.scene) this.view = showing(this.view, dot.u, dot.v, this.scene.sheet, this.room)
  }

  private dress(): void {
    this.last = 'changed'
    this.sprites = new Sprites(inkOf(this.canvas))
    this.ask(atFirst)
  }

  private fitRoom(): void {
    const room = { width: this.canvas.clientWidth, height: this.canvas.clientHeight }
    if (room.width === this.room.width && room.height === this.room.height && this.canvas.width === Math.round(room.width * ratio())) return
    this.room = room
    this.canvas.width = Math.round(room.width * ratio())
    this.canvas.height = Math.round(room.height * ratio())
    this.last = 'changed'
    this.lay(true)
    this.budget = atFirst
    this.paint() // at once: a canvas that was given a size is empty
  }

  /** Lays the bed out in the room anew, and shows the whole of it, or what was seen before. */
  private lay(keeps: boolean): void {
    const { shown, room, view, scene: before } = this
    if (!shown || room.width === 0) return
    const sheet = sheetFor(shown.ground, room, this.sprites.ink.fontSize)
    this.scene = sceneOf(shown.picture, sheet)
    this.view = keeps && before ? againSeen(view, before.sheet, this.laidIn, sheet, room) : fitted(sheet, room)
    this.laidIn = room
    this.tellLaid({ scale: sheet.scale, pieces: sheet.strips.length })
  }

  /** Paints with the next frame, making so much of sprites. */
  private ask(budget: number): void {
    this.budget = Math.max(this.budget, budget)
    this.resting = false
    if (this.frame === 0) this.frame = requestAnimationFrame(() => this.next())
  }

  private next(): void {
    this.frame = 0
    if (this.resting) this.rest()
    else this.paint()
  }

  private painting(): Painting | undefined {
    const { scene, view, room, sprites, budget } = this
    return scene && { scene, view, room, ratio: ratio(), sprites, codes: true, budget }
  }

  private paint(): void {
    const painting = this.painting()
    const ctx = this.canvas.getContext('2d', { alpha: false })
    cancelAnimationFrame(this.frame)
    this.frame = 0
    if (!painting || !ctx) return
    const { scene, view, sprites } = painting
    if (this.budget >= atFirst) prepare(painting, performance.now() + firstSlice)
    this.budget = 0
    // What moves is copied; what is zoomed is copied larger or smaller, and drawn as it is once it rests.
    if (this.last === 'moved') this.backdrop.show(ctx, painting)
    else if (this.last === 'zoomed') this.backdrop.zoom(ctx, painting)
    else paint(ctx, painting)
    ctx.setTransform(ratio(), 0, 0, ratio(), 0, 0)
    const chosen = scene.dots.find(({ head }) => head.plant.id === this.shown?.chosen)
    if (chosen) paintChosen(ctx, chosen, view, pitchSeen(scene, view), sprites.ink)
    if (sprites.isShort || this.last === 'zoomed') this.rough = true
    if (this.rough) this.askRest()
  }

  private askRest(): void {
    this.resting = true
    this.frame = requestAnimationFrame(() => this.next())
  }

  /** Makes sprites that are missing, a few a frame, and paints once all are there. */
  private rest(): void {
    const painting = this.painting()
    const drawn = painting && (this.last === 'changed' ? painting : widened(painting))
    if (!drawn || !prepare(drawn, performance.now() + slice)) return this.askRest()
    this.rough = false
    this.backdrop.forget()
    this.last = 'changed'
    this.ask(0)
  }
}

function isSame(a: Ground, b: Ground): boolean {
  return a.length === b.length && a.width === b.width && a.lines === b.lines && a.numbers === b.numbers
}

function ratio(): number {
  return devicePixelRatio || 1
}
