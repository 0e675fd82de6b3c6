import { describe, expect, it } from 'vitest'
import { csvText, unguarded } from '../ui/csv'
import { readSheet } from './sheet'

const utf8 = (text: string) => new TextEncoder().encode(text)
const utf16 = (text: string, big: boolean, marked: boolean) => {
  const units = [...(marked ? '\uFEFF' : ''), ...text].map((sign) => sign.charCodeAt(0))
  return new Uint8Array(units.flatMap((unit) => (big ? [unit >> 8, unit & 255] : [unit & 255, unit >> 8])))
}
const latin = (text: string) => new Uint8Array([...text].map((sign) => sign.charCodeAt(0)))

describe('a spreadsheet', () => {
  it.each([
    ['UTF-8', utf8('plant,bed\nÑ1,Añil\n'), 'utf-8'],
    ['UTF-8 with its mark', utf8('\uFEFFplant,bed\nÑ1,Añil\n'), 'utf-8'],
    ['UTF-16 with its mark', utf16('plant,bed\nÑ1,Añil\n', false, true), 'utf-16'],
    ['UTF-16, big end first', utf16('plant,bed\nÑ1,Añil\n', true, true), 'utf-16'],
    ['UTF-16 without its mark', utf16('plant,bed\nÑ1,Añil\n', false, false), 'utf-16'],
    ['Windows-1252', latin('plant,bed\nÑ1,Añil\n'), 'windows-1252'],
    ['semicolons', utf8('plant;bed\nÑ1;Añil\n'), 'utf-8'],
    ['tabs', utf8('plant\tbed\nÑ1\tAñil\n'), 'utf-8'],
    ['a line that tells the separator', utf8('sep=;\nplant;bed\nÑ1;Añil\n'), 'utf-8'],
    ['lines ended as a Macintosh did', utf8('plant,bed\rÑ1,Añil\r'), 'utf-8'],
    ['accents of two signs', utf8('plant,bed\nN\u03031,An\u0303il\n'), 'utf-8'],
    ['space and quotation marks', utf8('"plant", "bed"\n Ñ1 ,"Añil"\n,\n\n'), 'utf-8'],
  ] as const)('is recognised: %s', (name, bytes, encoding) => {
    const sheet = readSheet(bytes)!
    expect([sheet.encoding, sheet.headings, sheet.rows.map(({ cells }) => cells)]).toEqual([encoding, ['plant', 'bed'], [['Ñ1', 'Añil']]])
    expect(sheet.rows[0]!.line).toBe(name.startsWith('a line') ? 3 : 2)
  })

  it.each([
    ['nothing', new Uint8Array()],
    ['a ZIP, as a spreadsheet program’s own file is', new Uint8Array([0x50, 0x4b, 3, 4, 20, 0, 6, 0, 8, 0, 0, 0, 33, 0, 1, 2, 3, 0x0a, 7])],
  ])('is none: %s', (_, bytes) => expect(readSheet(bytes)).toBeUndefined())

  it('keeps the lines of rows whose quotation marks make no sense', () => {
    expect(readSheet(utf8('plant,bed\nA"1,x\nB2,y\n'))).toMatchObject({ broken: [2], rows: [{ line: 3, cells: ['B2', 'y'] }] })
  })

  it.each(['=1+1', '-x', '@a', "'=1", "'80s", 'plain', '＝1', '+49 30 1234'])('loses the guard against formulas: %s', (text) => {
    expect(readSheet(utf8(csvText(['name'], [[text]])))!.rows[0]!.cells).toEqual([text])
    expect(unguarded(text.startsWith("'=") ? `'${text}` : text)).toBe(text)
  })
})
