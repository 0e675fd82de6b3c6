// What a rendered photo shows: everything of it is told, so that tests know what should be measured.

import type { Lab } from '../../colour/lab'
import type { Photo, Point } from '../measurement'
import type { Background } from './background'
import type { Head } from './head'
import type { Cones, Light, Matrix } from './light'
import type { Print } from './printed'
import type { View } from './view'

export interface Scene {
  readonly width: number
  readonly height: number
  readonly view: View
  readonly print: Print
  readonly head: Head
  readonly background: Background
  readonly light: Light
  readonly cones: Cones
  readonly falling: Falling
  readonly glare: readonly Spot[]
  readonly finger?: Finger | undefined
  readonly tag?: Tag | undefined
  /** A second card, in the plane of the first. */
  readonly beside?: Beside | undefined
  /** A square of one colour in that plane. */
  readonly square?: Square | undefined
  readonly camera: Camera
  readonly seed: number
}

/** A card's upper left corner and turn in the first card's millimetres, clockwise in degrees. */
export interface Beside {
  readonly print: Print
  readonly at: Point
  readonly turn: number
}

export interface Square {
  readonly lab: Lab
  readonly middle: Point
  readonly side: number
}

/** How the light falls on the frame. */
export interface Falling {
  /** Brightest over darkest edge, less 1. */
  readonly gradient: number
  /** Where it is brightest, degrees clockwise from the right. */
  readonly from: number
  /** What the frame's corners lose. */
  readonly vignette: number
  readonly shadow?: Shadow | undefined
}

/** Half of the frame in shadow. */
export interface Shadow {
  /** Through this point, in widths and heights of the frame. */
  readonly through: Point
  /** Where it is lit, degrees clockwise from the right. */
  readonly lit: number
  /** The share of the light that is left. */
  readonly left: number
  /** How wide its edge is, in widths of the frame. */
  readonly soft: number
}

/** Wet and shining. */
export interface Spot {
  /** In the card's plane. */
  readonly at: Point
  readonly radius: number
  /** What it adds in its middle, in parts of what perfect white sends back. */
  readonly strength: number
}

/** A plant's tag: it has a code, and is no card. */
export interface Tag {
  /** In rows, true where dark. */
  readonly code: readonly boolean[]
  /** The middle of its code, in the card's millimetres. */
  readonly at: Point
  readonly behind: number
}

/** Over a corner of the card. */
export interface Finger {
  /** 0 is the upper left one, then clockwise. */
  readonly corner: number
  /** Millimetres from the corner to the tip. */
  readonly reach: number
  readonly skin: Lab
}

export interface Camera {
  readonly space: Photo['space']
  /** EV; at 0 perfect white, lit as the frame's middle, just reaches the end of the scale. */
  readonly exposure: number
  /** What it takes the light to be. */
  readonly balance: Light
  /** What it balances: cones, or the channels of its pictures. */
  readonly balanced: 'cones' | 'channels'
  /** How strongly bright light is held back before it burns out: 0 not, 1 from a third of the scale on. */
  readonly shoulder: number
  /** 0 is a straight curve, 1 a full S (3v^2 - 2v^3 of encoded values). */
  readonly curve: number
  /** 1 is true; phones like 1.1. */
  readonly vivid: number
  /** Pixels, standard deviation. */
  readonly blur: number
  /** Pixels, and degrees. */
  readonly motion: number
  readonly motionAt: number
  /** Standard deviation at full scale of what grows with the root of light, and of what is always there. */
  readonly shot: number
  readonly read: number
}

/** Linear light of the camera's channels. */
export interface Planes {
  readonly width: number
  readonly height: number
  readonly r: Float32Array
  readonly g: Float32Array
  readonly b: Float32Array
}

/** From what a surface reflects under D50 to the camera's linear channels. */
export interface Chain {
  readonly matrix: Matrix
  /** What each channel was raised by to balance it, green's taken for 1. */
  readonly gains: readonly [number, number, number]
}
