import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'

const src = join(import.meta.dirname, '..')
const sheets = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.css'))
const rules = (path: string) => readFileSync(join(src, path), 'utf8')

/** Words that say how a note or a button is meant, as in `.note.stop`. */
const modifiers = new Set([...sheets.filter((path) => path.startsWith('ui/')).map(rules).join().matchAll(/\.(?:note|btn)\.([\w-]+)/g)].map((found) => found[1]))

// Styles of a page stay once it was opened, so that a rule for `.stop` alone would change every note that is one.
it.each(sheets)('%s has no rule for such a word alone', (path) => {
  const alone = [...rules(path).matchAll(/(?:^|[,}])\s*\.([\w-]+)\s*(?=[,{])/g)].map((found) => found[1])
  expect(alone.filter((word) => modifiers.has(word))).toEqual([])
})
