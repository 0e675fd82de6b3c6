// How Node reads our TypeScript: types are taken out by the compiler that vite stands on, which is there
// in half the time that vite itself takes to start. Nothing is bundled, so modules are where they lie.

import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'

const vite = createRequire(createRequire(import.meta.url).resolve('vite'))
/** @type {typeof import('rolldown/utils')} */
const { transform } = await import(pathToFileURL(vite.resolve('rolldown/utils')).href)

/**
 * Our modules name each other without an extension, as bundlers have it.
 *
 * @type {import('node:module').ResolveHook}
 */
export async function resolve(name, context, next) {
  const ours = context.parentURL?.endsWith('.ts') && /^\.\.?\//.test(name) && !/\.\w+$/.test(name)
  return next(ours ? `${name}.ts` : name, context)
}

/** @type {import('node:module').LoadHook} */
export async function load(url, context, next) {
  if (!url.endsWith('.ts')) return next(url, context)
  const text = await readFile(new URL(url), 'utf8')
  const { code, map, errors } = await transform(url, text, { lang: 'ts', sourcemap: true })
  if (errors.length > 0) throw new Error(`reading ${url}: ${errors.map(({ message }) => message).join('; ')}`)
  const sources = Buffer.from(JSON.stringify(map)).toString('base64')
  return { format: 'module', source: `${code}\n//# sourceMappingURL=data:application/json;base64,${sources}`, shortCircuit: true }
}
