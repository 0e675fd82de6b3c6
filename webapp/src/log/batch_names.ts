// The names of a batch: texts that stand in it as numbers, in the order in which they came. Mirrors
// syncproto/names.go.

import { maxNames, maxNamesBytes } from './batch'
import type { ByteReader } from './bytes'
import { ShapeError } from './canonical'
import { fitsName, fitsText, maxTextBytes } from './check'
import { uuidText, writeUUID } from './origin'

/** Bytes of a UUID as text, which is how it counts. */
const uuidLength = 36
const pending = -1
const encoder = new TextEncoder()
const decoder = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })

/** Gives numbers to texts in the order in which they are first packed. */
export class PackedNames {
  private readonly numbers = new Map<string, number>()
  private bytes = 0
  /** New names, collected for the batch under way. */
  readonly texts: Uint8Array[] = []
  readonly uuids: Uint8Array[] = []
  private readonly textNames: string[] = []
  private readonly uuidNames: string[] = []

  get size(): number {
    return this.numbers.size
  }

  get isFull(): boolean {
    return this.numbers.size > maxNames || this.bytes > maxNamesBytes
  }

  numberOf(name: string): number {
    return this.numbers.get(name)!
  }

  /** Notes a text that the batch needs. */
  collect(name: string): void {
    if (this.numbers.has(name)) return
    this.numbers.set(name, pending)
    const uuid = new Uint8Array(16)
    if (writeUUID(name, uuid, 0)) {
      this.bytes += uuidLength
      this.uuids.push(uuid)
      this.uuidNames.push(name)
      return
    }
    const text = encoder.encode(name)
    this.bytes += text.length
    this.texts.push(text)
    this.textNames.push(name)
  }

  /** Numbers what was collected: texts, then UUIDs. */
  number(): void {
    const names = [...this.textNames, ...this.uuidNames]
    const first = this.numbers.size - names.length
    names.forEach((name, i) => this.numbers.set(name, first + i))
  }

  settle(): void {
    for (const list of [this.texts, this.uuids, this.textNames, this.uuidNames]) list.length = 0
  }
}

/** What a name may stand for: told once, not at each change that bears it. */
export const fitForText = 1
export const fitForName = 2
export const fitForUUID = 4

/** Texts by number. */
export class ReadNames {
  readonly texts: string[] = []
  readonly fits: number[] = []
  private bytes = 0

  read(r: ByteReader): void {
    for (let left = r.count(maxNames); left > 0; left--) {
      const bytes = r.bytes(r.count(maxTextBytes))
      const text = textOf(bytes)
      this.add(text, bytes.length, fitsOf(text))
    }
    for (let left = r.count(maxNames); left > 0; left--) {
      this.add(uuidText(r.bytes(16), 0), uuidLength, fitForText | fitForName | fitForUUID)
    }
  }

  private add(text: string, bytes: number, fits: number): void {
    this.bytes += bytes
    if (this.texts.length >= maxNames || this.bytes > maxNamesBytes) throw new ShapeError('a conversation holds too many names')
    this.texts.push(text)
    this.fits.push(fits)
  }
}

function textOf(bytes: Uint8Array): string {
  try {
    return decoder.decode(bytes)
  } catch (cause) {
    throw new ShapeError('a text of a batch is not UTF-8', { cause })
  }
}

function fitsOf(text: string): number {
  if (!fitsText(text)) return 0
  return fitsName(text) ? fitForText | fitForName | (writeUUID(text, scratch, 0) ? fitForUUID : 0) : fitForText
}

const scratch = new Uint8Array(16)
