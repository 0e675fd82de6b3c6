// Files put together in a ZIP file and taken out of it, as APPNOTE.TXT of PKWARE (6.3.10) describes it: stored
// and not compressed, since photos are already. So many photos are one file to save and to hand on.

import type { Bytes } from './photo_db'

export interface ZipEntry {
  readonly name: string
  readonly bytes: Bytes
  /** Ms since 1970, told by the device's own clock, to two seconds. */
  readonly at: number
}

/** A file that is no ZIP, is not whole, or is one of another kind than is written here. */
export class ZipProblem extends Error {
  override readonly name = 'ZipProblem'
}

const localHead = 30
const centralHead = 46
const endHead = 22
const signatures = { local: 0x04034b50, central: 0x02014b50, end: 0x06054b50 }
/** Names are UTF-8 (bit 11). */
const flags = 0x0800
const version = 20
/** Beyond these the format needs its larger form, ZIP64. */
const mostBytes = 0xffff_ffff
const mostEntries = 0xffff

/** Takes the entries one by one, so that only one need be in memory. */
export class ZipWriter {
  private readonly parts: Blob[] = []
  private readonly central: Bytes[] = []
  private size = 0

  add({ name, bytes, at }: ZipEntry): void {
    const text = new TextEncoder().encode(name)
    const said = { crc: crc32(bytes), size: bytes.length, name: text, at: dosTime(at) }
    this.central.push(centralOf(said, this.size))
    const head = localOf(said)
    this.parts.push(new Blob([head, bytes]))
    this.size += head.length + bytes.length
  }

  /** Throws a ZipProblem where it has become too large. */
  finish(): Blob {
    const directory = this.central.reduce((sum, { length }) => sum + length, 0)
    if (this.size + directory > mostBytes || this.central.length > mostEntries) {
      throw new ZipProblem(`writing a ZIP file: ${this.central.length} files of ${this.size} bytes are too many for one`)
    }
    const end = new DataView(new ArrayBuffer(endHead))
    end.setUint32(0, signatures.end, true)
    end.setUint16(8, this.central.length, true)
    end.setUint16(10, this.central.length, true)
    end.setUint32(12, directory, true)
    end.setUint32(16, this.size, true)
    return new Blob([...this.parts, ...this.central, end], { type: 'application/zip' })
  }
}

interface Said {
  readonly crc: number
  readonly size: number
  readonly name: Bytes
  readonly at: number
}

function localOf(said: Said): Bytes {
  const view = new DataView(new ArrayBuffer(localHead + said.name.length))
  view.setUint32(0, signatures.local, true)
  return common(view, 4, localHead, said)
}

function centralOf(said: Said, offset: number): Bytes {
  const view = new DataView(new ArrayBuffer(centralHead + said.name.length))
  view.setUint32(0, signatures.central, true)
  view.setUint16(4, version, true)
  view.setUint32(42, offset, true)
  return common(view, 6, centralHead, said)
}

/** What both headers say, in the same order: version, flags, method, time, CRC, sizes, lengths, the name. */
function common(view: DataView<ArrayBuffer>, from: number, nameAt: number, { crc, size, name, at }: Said): Bytes {
  view.setUint16(from, version, true)
  view.setUint16(from + 2, flags, true)
  view.setUint32(from + 6, at, true)
  view.setUint32(from + 10, crc, true)
  view.setUint32(from + 14, size, true)
  view.setUint32(from + 18, size, true)
  view.setUint16(from + 22, name.length, true)
  const bytes = new Uint8Array(view.buffer)
  bytes.set(name, nameAt)
  return bytes
}

/** A date and a time of MS-DOS, which begins in 1980. */
function dosTime(ms: number): number {
  const at = new Date(ms)
  if (at.getFullYear() < 1980) return 0x21_0000
  const date = ((at.getFullYear() - 1980) << 9) | ((at.getMonth() + 1) << 5) | at.getDate()
  const time = (at.getHours() << 11) | (at.getMinutes() << 5) | (at.getSeconds() >> 1)
  return ((date << 16) | time) >>> 0
}

/** The contents of the files in a ZIP, still on disk. Throws a ZipProblem. */
export async function filesIn(zip: Blob): Promise<Blob[]> {
  try {
    return await readFiles(zip)
  } catch (cause) {
    if (cause instanceof RangeError) throw new ZipProblem('reading a ZIP file: it ends too soon', { cause })
    throw cause
  }
}

async function readFiles(zip: Blob): Promise<Blob[]> {
  const { entries, offset, size } = await endOf(zip)
  const directory = await viewOf(zip, offset, size)
  const files: Blob[] = []
  for (let at = 0; files.length < entries;) {
    if (directory.getUint32(at, true) !== signatures.central) throw new ZipProblem('reading a ZIP file: its directory is damaged')
    if (directory.getUint16(at + 10, true) !== 0) throw new ZipProblem('reading a ZIP file: it is compressed, which a phone does not do')
    files.push(await contentAt(zip, directory.getUint32(at + 42, true), directory.getUint32(at + 24, true)))
    at += centralHead + directory.getUint16(at + 28, true) + directory.getUint16(at + 30, true) + directory.getUint16(at + 32, true)
  }
  return files
}

/** A comment may follow the end; none is written here. */
async function endOf(zip: Blob): Promise<{ entries: number; offset: number; size: number }> {
  const end = await viewOf(zip, Math.max(0, zip.size - endHead), endHead)
  if (end.getUint32(0, true) !== signatures.end) throw new ZipProblem('reading a ZIP file: it is none, or not whole')
  return { entries: end.getUint16(10, true), size: end.getUint32(12, true), offset: end.getUint32(16, true) }
}

async function contentAt(zip: Blob, head: number, size: number): Promise<Blob> {
  const view = await viewOf(zip, head, localHead)
  if (view.getUint32(0, true) !== signatures.local) throw new ZipProblem('reading a ZIP file: a file in it is not where it should be')
  const from = head + localHead + view.getUint16(26, true) + view.getUint16(28, true)
  if (from + size > zip.size) throw new ZipProblem('reading a ZIP file: it ends too soon')
  return zip.slice(from, from + size)
}

async function viewOf(zip: Blob, from: number, length: number): Promise<DataView> {
  return new DataView(await zip.slice(from, from + length).arrayBuffer())
}

/** CRC-32 of ISO 3309, as ZIP uses it. */
export function crc32(bytes: Uint8Array): number {
  let crc = -1
  for (const byte of bytes) crc = (crc >>> 8) ^ crcTable[(crc ^ byte) & 255]!
  return (crc ^ -1) >>> 0
}

const crcTable = Int32Array.from({ length: 256 }, (_, n) => {
  let crc = n
  for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1
  return crc
})
