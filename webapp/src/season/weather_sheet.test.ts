import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { readWeather, readWeatherFile } from './weather_sheet'

interface Case {
  readonly name: string
  readonly text: string
  readonly days: readonly { readonly date: string; readonly min: number; readonly max: number }[]
  readonly out_of_order: boolean
  readonly empty: readonly string[]
  readonly ignored: readonly string[]
  readonly problems: readonly { readonly line: number; readonly column: string; readonly kind: string }[]
}

const { cases } = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/weather.json'), 'utf8')) as { readonly cases: readonly Case[] }

describe('weather.csv, by the vectors that Go runs too', () => {
  it.each(cases)('$name', ({ text, days, out_of_order, empty, ignored, problems }) => {
    const sheet = readWeather(text)
    expect(sheet.problems.map(({ line, column, kind }) => ({ line, column, kind }))).toEqual(problems)
    if (problems.length > 0) return
    expect(sheet.days.map(({ date, min, max }) => ({ date, min, max }))).toEqual(days)
    expect(sheet).toMatchObject({ outOfOrder: out_of_order, empty, ignored })
  })
})

describe('the bytes of a file', () => {
  const bytes = (text: string) => new TextEncoder().encode(text)

  it('may begin with a byte order mark, and end lines as old Macintoshes did', () => {
    const sheet = readWeatherFile(bytes('\uFEFFdate,tmin,tmax\r2026-04-01,1,2\r'))
    expect(sheet).toMatchObject({ problems: [], days: [{ date: '2026-04-01', line: 2, min: 1, max: 2 }] })
  })

  it.each([
    ['Latin-1', Uint8Array.of(0x64, 0xe9, 0x0a)],
    ['UTF-16', Uint8Array.of(0x64, 0, 0x61, 0)],
  ])('are refused in %s', (_, wrong) => {
    expect(readWeatherFile(wrong).problems.map(({ kind }) => kind)).toEqual(['encoding'])
  })
})
