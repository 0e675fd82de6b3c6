// The build's account of what is in it: the packages whose code or files ended up in the app, for the
// list of licences that the program carries (server/about).

import { writeFileSync } from 'node:fs'
import type { Plugin } from 'vite'

/** Writes the names of the packages, sorted, to a JSON file; does nothing without one. */
export function bundled(file: string | undefined): Plugin {
  return {
    name: 'corymb-bundled',
    apply: 'build',
    generateBundle(_options, bundle) {
      if (file === undefined) return
      const parts = Object.values(bundle).flatMap((made) => (made.type === 'asset' ? made.originalFileNames : rendered(made.modules)))
      const packages = new Set(parts.map(packageOf).filter((name) => name !== undefined))
      writeFileSync(file, JSON.stringify([...packages].sort()))
    },
  }
}

function rendered(modules: Readonly<Record<string, { readonly renderedLength: number }>>): string[] {
  return Object.entries(modules).filter(([, module]) => module.renderedLength > 0).map(([id]) => id)
}

/** The package that a module or file comes from; a module that a tool makes up is the tool's. */
function packageOf(id: string): string | undefined {
  const madeUpBy = /^\0(\w+)\//.exec(id)?.[1]
  const inside = id.split(/[\\/]node_modules[\\/]|^node_modules[\\/]/).at(-1) ?? ''
  return madeUpBy ?? (inside === id ? undefined : /^(@[^\\/]+[\\/])?[^\\/]+/.exec(inside)?.[0].replaceAll('\\', '/'))
}
