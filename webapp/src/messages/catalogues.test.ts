import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { en } from './en'
import { es } from './es'
import { fill, placeholders } from './message'
import { hasMessage, spokenHere } from './messages'

const keys = Object.keys(en) as (keyof typeof en)[]

describe('the catalogues', () => {
  it('hold the same keys', () => {
    expect(Object.keys(es).sort()).toEqual([...keys].sort())
  })

  it.each(['en', 'es'])('say every key once in the files of %s, of which a later one would hide an earlier', (language) => {
    const files = readdirSync(import.meta.dirname).filter((name) => name === `${language}.ts` || name.startsWith(`${language}_`))
    const all = files.flatMap((name) => [...readFileSync(join(import.meta.dirname, name), 'utf8').matchAll(/^ {2}'([^']+)':/gm)].map((m) => m[1]))
    expect(all.filter((key, i) => all.indexOf(key) !== i)).toEqual([])
    expect(all).toHaveLength(keys.length)
  })

  it('hold the same placeholders', () => {
    const differing = keys.filter((key) => placeholders(en[key]).join() !== placeholders(es[key]).join())
    expect(differing).toEqual([])
  })

  it('say every text of an own form in Spanish', () => {
    // Words that are the same in both languages, names and forms made of placeholders alone.
    const same = keys.filter((key) => typeof en[key] === 'string' && en[key] === es[key] && /[a-z]{3}/i.test(String(en[key]).replace(/\{\w+\}/g, '')))
    expect(same).toEqual([
      'title', 'grade.extra', 'settings.language.en', 'settings.language.es', 'kind.iphone', 'kind.ipad', 'kind.mac', 'kind.chromebook',
      'papers.total',
    ])
  })

  it('put no article before a day that may be today', () => {
    const forecastDays = ['ahead.asof', 'ahead.asof.asking', 'promise.forecast', 'tasks.from.forecast'] as const
    expect(forecastDays.filter((key) => /\bd?el \{day\}/.test(es[key]))).toEqual([])
  })

  it('call a page that they send to by its name', () => {
    for (const of of [en, es]) expect(of['ahead.promised.how']).toContain(of['promise.title'])
  })

  it('use every key', () => {
    const code = sources().map(({ text }) => text).join('\n')
    const stems = [...code.matchAll(/[`'"]([a-z_.0-9]+?)\.?\$\{/g)].map((m) => `${m[1]}.`)
    const unused = keys.filter((key) => !code.includes(`'${key}'`) && !stems.some((stem) => key.startsWith(stem)))
    expect(unused).toEqual([])
  })
})

// Why server/httpapi/unsent.go takes no file in, and why it accepts no entry of one (PROTOCOL.md, section 5).
it.each([
  ...['farm', 'version', 'malformed', 'too_large', 'origin', 'busy', 'join', 'withdrawn', 'role', 'other'].map((code) => `read_in.code.${code}`),
  ...['scope', 'role', 'count', 'date', 'value', 'operation', 'other'].flatMap((code) => [`read_in.reason.${code}`, `refused.${code}`]),
  // Why the shed does not let this device in, or an owner have their way.
  ...['join', 'withdrawn'].flatMap((code) => [`barred.${code}`, `barred.line.${code}`, `ask.${code}`]),
  ...['code', 'wait', 'role', 'last_owner', 'other'].map((code) => `ask.${code}`),
])('%s is said in words', (key) => {
  expect(hasMessage(key)).toBe(true)
})

describe('no visible literal stands in a component', () => {
  it.each(sources().filter(({ path }) => path.endsWith('.tsx')).map(({ path, text }) => [path, text]))('%s', (_, text) => {
    const markup = text.replace(/\/\/.*|\/\*[\s\S]*?\*\//g, '').replace(/=>/g, '')
    // Words between two tags; a brace, bracket or semicolon among them makes it code.
    const between = [...markup.matchAll(/>\s*([^<>{}();=|&]*[A-Za-zÀ-ÿ]{2,}[^<>{}();=|&]*)\s*<\//g)].map((m) => m[1])
    const attributes = [...markup.matchAll(/\b(?:aria-label|title|placeholder|alt|label)="([^"]*[A-Za-z]{2}[^"]*)"/g)].map((m) => m[1])
    expect([...between, ...attributes]).toEqual([])
  })
})

describe('filling a message', () => {
  it.each([
    ['en-US', 1, '1 stem'], ['en-US', 2, '2 stems'], ['en-US', 0, '0 stems'], ['en-US', 1200, '1,200 stems'],
  ])('%s %d', (locale, n, text) => {
    expect(fill({ one: '{n} stem', other: '{n} stems' }, { n }, locale)).toBe(text)
  })

  it('leaves a text as it stands: a year takes no comma', () => {
    expect(fill('season {year}', { year: '2026' }, 'en-US')).toBe('season 2026')
  })
})

it.each([[['es-GT', 'en'], 'es'], [['fr', 'es'], 'es'], [['de'], 'en'], [['en-GB', 'es'], 'en'], [[], 'en']] as const)('a device that speaks %j is spoken to in %s', (preferred, language) => {
  expect(spokenHere(preferred)).toBe(language)
})

function sources(): { path: string; text: string }[] {
  const root = join(import.meta.dirname, '..')
  return readdirSync(root, { recursive: true })
    .map(String)
    .filter((path) => /\.tsx?$/.test(path) && !/\.test\.|^messages\/e[ns]/.test(path))
    .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') }))
}
