// The command itself, as it is typed.

import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'

const webapp = join(import.meta.dirname, '..')
const reference = join(webapp, '../testdata/reference/ciede2000.csv')

interface Answer {
  readonly lines: readonly string[]
  readonly error: string
  readonly status: number | null
}

/** What the command says to an input, without the lines in which npm says what it runs. */
function measure(args: readonly string[], input: string, cwd = '.'): Answer {
  const command = ['run', '--prefix', webapp, 'measure', '--', ...args]
  const { stdout, stderr, status } = spawnSync('npm', command, { input, encoding: 'utf8', cwd })
  const lines = stdout.split('\n')
  expect(lines.pop(), 'what follows the last line').toBe('')
  return { lines: lines.filter((line) => line !== '' && !line.startsWith('> ')), error: stderr, status }
}

// Source: Sharma, Wu and Dalal 2005, table 1; the last column is theirs worked out to 40 digits.
it('answers the 34 published pairs to twelve digits', () => {
  const rows = readFileSync(reference, 'utf8').trim().split('\n').slice(1).map((line) => line.split(','))
  const input = rows.map((row) => `${row.slice(1, 4).join(',')} ${row.slice(4, 7).join(',')}\n`).join('')
  const { lines, error, status } = measure(['--difference'], input)
  expect({ error, status, count: lines.length }).toEqual({ error: '', status: 0, count: 34 })
  lines.forEach((line, i) => {
    expect(line).toMatch(/^\d+\.\d{12}$/)
    expect(Math.abs(Number(line) - Number(rows[i]?.[8])), `pair ${i + 1}`).toBeLessThan(1.5e-12)
  })
}, 60_000)

it('stops at a bad line and names it, when those before are answered', () => {
  const { lines, error, status } = measure(['--difference'], '50,2.5,0 50,0,-2.5\n50,1 50,2,3\n50,0,0 50,0,0\n')
  expect(lines).toEqual(['4.306482095827'])
  expect(error).toContain('measure: line 2 is no pair of colours: "50,1 50,2,3"')
  expect(status).toBe(1)
}, 60_000)

it('says how it is used when asked for anything else', () => {
  const { lines, error, status } = measure(['--differences'], '50,2.5,0 50,0,-2.5\n')
  expect(lines).toEqual([])
  expect(error).toContain('L,a,b L,a,b')
  expect(status).toBe(2)
}, 60_000)

it('measures photos from where it is called, and goes on after one that cannot be read', () => {
  const { lines, error, status } = measure(['card/ink.png', 'tags/none.jpg'], '', join(webapp, '../testdata'))
  expect(lines.map((line) => JSON.parse(line) as unknown)).toEqual(['card/ink.png', 'tags/none.jpg'].map((file) => (
    { file, card: null, lab: null, se: null, spread_cm: null, spread_se_cm: null, quality: 0, problems: [expect.any(String)] }
  )))
  expect(lines[0]).toContain('This picture has no colours.')
  expect(error).toContain('measure: tags/none.jpg: The file cannot be opened')
  expect(status).toBe(1)
}, 60_000)

it.each([['--cards'], ['--cards', 'cards.json'], ['-x', 'photo.jpg']])('says how it is used when asked %s %s', (...args) => {
  expect(measure(args, '').status).toBe(2)
}, 60_000)
