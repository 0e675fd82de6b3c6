// What a JPEG says of itself: its colour space, which camera took it, and on which day.

import type { Photo } from '../colourcard/measurement'
import { toD50, displayP3, sRGB, type Space, xyzOfRGB } from '../colour/rgb'
import { parseDay } from '../crop/day'
import type { Day } from '../crop/nouns'

export interface ToldByFile {
  /** Undefined where it is neither of the two that are known, or where the file is no JPEG. */
  readonly space: Photo['space'] | undefined
  /** Make and model; '' is not told. */
  readonly camera: string
  readonly day: Day | ''
}

const untold: ToldByFile = { space: undefined, camera: '', day: '' }

/** Bytes at the beginning of a file in which a camera has said all this. */
const headBytes = 512 << 10

export async function toldByFile(file: Blob): Promise<ToldByFile> {
  return toldByJPEG(new Uint8Array(await file.slice(0, headBytes).arrayBuffer()))
}

/** What is broken or cut short is not told; a profile that is so is of no space that is known. */
export function toldByJPEG(head: Uint8Array): ToldByFile {
  if (head[0] !== 0xff || head[1] !== 0xd8) return untold
  let told: ToldByFile = { ...untold, space: 'srgb' }
  const profile: Uint8Array[] = []
  for (const { marker, body } of segments(head)) {
    if (marker === 0xe1 && begins(body, 'Exif\0\0')) told = { ...told, ...unlessCut(() => toldByExif(body.subarray(6)), {}) }
    if (marker === 0xe2 && begins(body, 'ICC_PROFILE\0') && body.length > 14) profile[body[12]!] = body.subarray(14)
  }
  if (profile.length === 0) return told
  return { ...told, space: unlessCut(() => spaceOf(joined(profile.filter((part) => part !== undefined))), undefined) }
}

function unlessCut<T>(read: () => T, otherwise: T): T {
  try {
    return read()
  } catch (cause) {
    if (cause instanceof RangeError) return otherwise
    throw cause
  }
}

interface Segment {
  readonly marker: number
  readonly body: Uint8Array
}

/** Those before the picture's data (ITU-T T.81, B.1.1.4). */
function* segments(head: Uint8Array): IterableIterator<Segment> {
  const view = viewOf(head)
  for (let at = 2; at + 4 <= head.length && head[at] === 0xff;) {
    const marker = head[at + 1]!
    if (marker === 0xff) {
      at++ // filling
      continue
    }
    if (marker === 0xda) return
    const length = view.getUint16(at + 2)
    yield { marker, body: head.subarray(at + 4, at + 2 + length) }
    at += 2 + length
  }
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
}

function begins(body: Uint8Array, text: string): boolean {
  return textAt(body, 0, text.length) === text
}

function textAt(bytes: Uint8Array, from: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(from, from + length))
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}

// Tags of Exif 2.32 (CIPA DC-008), tables 4 and 7.
const tagMake = 0x010f
const tagModel = 0x0110
const tagDateTime = 0x0132
const tagExif = 0x8769
const tagDateTimeOriginal = 0x9003
const tagInterop = 0xa005
const tagInteropIndex = 0x0001
/** DCF 2.0, 5.1.2: a "DCF optional file", which is in Adobe RGB and bears no profile. */
const optionFile = 'R03'

function toldByExif(tiff: Uint8Array): Partial<ToldByFile> {
  const view = viewOf(tiff)
  const little = textAt(tiff, 0, 2) === 'II'
  const main = directory(tiff, view.getUint32(4, little), little)
  const inner = main.get(tagExif)
  const exif = inner ? directory(tiff, view.getUint32(inner + 8, little), little) : new Map<number, number>()
  const text = (entries: ReadonlyMap<number, number>, tag: number) => {
    const at = entries.get(tag)
    return at === undefined ? '' : textOf(tiff, view, at, little)
  }
  const [make, model] = [text(main, tagMake), text(main, tagModel)]
  // Many a model begins with its make.
  const camera = model.toLowerCase().startsWith(make.toLowerCase()) ? model : `${make} ${model}`.trim()
  const day = dayOf(text(exif, tagDateTimeOriginal) || text(main, tagDateTime))
  const related = exif.get(tagInterop)
  const interop = related ? directory(tiff, view.getUint32(related + 8, little), little) : new Map<number, number>()
  return text(interop, tagInteropIndex) === optionFile ? { camera, day, space: undefined } : { camera, day }
}

/** Where each tag's entry is (TIFF 6.0, section 2). */
function directory(tiff: Uint8Array, at: number, little: boolean): ReadonlyMap<number, number> {
  const view = viewOf(tiff)
  const entries = view.getUint16(at, little)
  return new Map(Array.from({ length: entries }, (_, i) => at + 2 + 12 * i).map((entry) => [view.getUint16(entry, little), entry]))
}

function textOf(tiff: Uint8Array, view: DataView, entry: number, little: boolean): string {
  const count = view.getUint32(entry + 4, little)
  const at = count <= 4 ? entry + 8 : view.getUint32(entry + 8, little)
  return textAt(tiff, at, Math.min(count, 200)).replace(/\0[\s\S]*$/, '').replace(/[^\x20-\x7e]/g, '').trim()
}

/** "2026:06:03 14:05:00" */
function dayOf(written: string): Day | '' {
  return parseDay(written.slice(0, 10).replaceAll(':', '-')) ?? ''
}

/** By its primaries in D50, where ICC.1:2010, 9.2 has them in 16.16 fixed point. Throws a RangeError where it is cut short. */
export function spaceOf(profile: Uint8Array): Photo['space'] | undefined {
  const primaries = ['rXYZ', 'gXYZ', 'bXYZ'].map((name) => tagOf(profile, name))
  if (matches(primaries, sRGB)) return 'srgb'
  return matches(primaries, displayP3) ? 'display-p3' : undefined
}

function tagOf(profile: Uint8Array, name: string): readonly number[] {
  const view = viewOf(profile)
  for (let i = 0, tags = view.getUint32(128); i < tags; i++) {
    const entry = 132 + 12 * i
    if (textAt(profile, entry, 4) !== name) continue
    const at = view.getUint32(entry + 4) + 8
    return [0, 4, 8].map((offset) => view.getInt32(at + offset) / 65536)
  }
  return []
}

/** Profiles are rounded, and adapted in more ways than one. */
const slack = 0.006

function matches(primaries: readonly (readonly number[])[], space: Space): boolean {
  return [{ r: 1, g: 0, b: 0 }, { r: 0, g: 1, b: 0 }, { r: 0, g: 0, b: 1 }].every((primary, i) => {
    const { X, Y, Z } = toD50(xyzOfRGB(primary, space))
    return [X, Y, Z].every((part, j) => Math.abs(part - (primaries[i]?.[j] ?? Infinity)) < slack)
  })
}
