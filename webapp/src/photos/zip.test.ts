// ZIP files, put together and taken apart.

import { describe, expect, test } from 'vitest'
import { crc32, filesIn, ZipProblem, ZipWriter } from './zip'

const at = new Date(2026, 5, 3, 14, 5, 8).getTime()
const bytes = (...values: number[]) => new Uint8Array(values)

function zipOf(files: Readonly<Record<string, Uint8Array<ArrayBuffer>>>): Blob {
  const zip = new ZipWriter()
  for (const [name, content] of Object.entries(files)) zip.add({ name, bytes: content, at })
  return zip.finish()
}

async function contents(zip: Blob): Promise<number[][]> {
  return Promise.all((await filesIn(zip)).map(async file => [...new Uint8Array(await file.arrayBuffer())]))
}

// The check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRC algorithms (reveng.sourceforge.io), from memory.
test('the CRC is that of ISO 3309', () => {
  expect(crc32(new TextEncoder().encode('123456789'))).toBe(0xcbf43926)
})

test.each([
  ['no file', {}],
  ['an empty one', { 'a.jpg': bytes() }],
  ['several', { 'a.jpg': bytes(1, 2, 3), 'Ñandú 1.jpg': bytes(0x50, 0x4b, 5, 6), 'c.jpg': bytes(255) }],
])('what was put together comes out again: %s', async (_, files) => {
  expect(await contents(zipOf(files))).toEqual(Object.values(files).map(content => [...content]))
})

// MS-DOS time and date, little-endian at offset 10 of a local header (PKWARE APPNOTE 6.3.9, 4.3.7 and 4.4.6): hours,
// minutes and pairs of seconds; years since 1980, months and days. That another program reads the whole is
// server/take_in_photos_test.go's, by Go's archive/zip, of the very bytes that saved.test.ts writes.
test('a file bears its time', async () => {
  const header = new DataView(await zipOf({ 'R4K.jpg': bytes(1, 2, 3) }).arrayBuffer())
  expect(header.getUint16(10, true)).toBe((14 << 11) | (5 << 5) | (8 / 2))
  expect(header.getUint16(12, true)).toBe(((2026 - 1980) << 9) | (6 << 5) | 3)
})

describe('what is no whole ZIP of a phone is refused', () => {
  const whole = zipOf({ 'a.jpg': bytes(1, 2, 3, 4), 'b.jpg': bytes(5, 6) })

  test('wherever it is cut', async () => {
    for (let size = 0; size < whole.size; size++) await expect(filesIn(whole.slice(0, size)), `${size} bytes`).rejects.toThrow(ZipProblem)
  })

  test('a photo, a text, and a compressed one', async () => {
    const compressed = new Uint8Array(await whole.arrayBuffer())
    compressed[compressed.length - 22 - 2 * (46 + 5) + 10] = 8
    for (const file of [new Blob([bytes(0xff, 0xd8, 0xff)]), new Blob(['{"t":"unsent"}\n'.repeat(9)]), new Blob([compressed])]) {
      await expect(filesIn(file)).rejects.toThrow(ZipProblem)
    }
  })
})
