// ZIP files, read also by Python's zipfile where it is there (docs.python.org/3/library/zipfile.html).

import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
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

test('another program reads it, with its names, times and checksums', async context => {
  const folder = mkdtempSync(join(tmpdir(), 'corymb-zip-'))
  try {
    const path = join(folder, 'photos.zip')
    writeFileSync(path, new Uint8Array(await zipOf({ 'R4K.jpg': bytes(1, 2, 3), 'Ñ.jpg': bytes(9) }).arrayBuffer()))
    const read = 'import sys, zipfile; z = zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; print([(i.filename, i.date_time, list(z.read(i))) for i in z.infolist()])'
    const { stdout, stderr, error } = spawnSync('python3', ['-c', read, path], { encoding: 'utf8', env: { ...process.env, PYTHONIOENCODING: 'utf-8' } })
    if (error) return context.skip('there is no Python')
    expect(stderr).toBe('')
    expect(stdout.trim()).toBe("[('R4K.jpg', (2026, 6, 3, 14, 5, 8), [1, 2, 3]), ('Ñ.jpg', (2026, 6, 3, 14, 5, 8), [9])]")
  } finally {
    rmSync(folder, { recursive: true })
  }
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
