// The build's part of the service worker: it compiles sw.ts as an entry of its own, puts the list of
// all files into it, and keeps dist/.gitkeep, without which the server does not compile on a clone
// where the app was never built.

import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { join, relative, resolve } from 'node:path'
import type { Plugin } from 'vite'

const worker = 'sw.js'

export function precache(): Plugin {
  let publicDir = ''
  let outDir = ''
  let listed: readonly string[] = []
  return {
    name: 'corymb-precache',
    apply: 'build',
    configResolved(config) {
      publicDir = config.publicDir
      outDir = resolve(config.root, config.build.outDir)
    },
    buildStart() {
      this.emitFile({ type: 'chunk', id: join(import.meta.dirname, 'src/sw/sw.ts'), fileName: worker })
    },
    renderStart: {
      order: 'pre', // before the public files are copied
      handler: () => emptyExceptKeep(outDir),
    },
    generateBundle: {
      order: 'post', // after the plugin that emits index.html
      handler(_options, bundle) {
        const chunk = bundle[worker]
        if (chunk?.type !== 'chunk') throw new Error(`building the service worker: no ${worker} came out`)
        if (chunk.imports.length > 0) throw new Error(`building the service worker: it imports ${chunk.imports.join(', ')}`)
        const hash = createHash('sha256')
        const emitted = Object.values(bundle).filter(file => file !== chunk)
        for (const file of emitted) hash.update(file.fileName).update(file.type === 'chunk' ? file.code : file.source)
        const copied = filesUnder(publicDir)
        for (const path of copied) hash.update(path).update(readFileSync(join(publicDir, path)))
        const names = [...emitted.map(file => file.fileName), ...copied].filter(name => name !== 'index.html')
        const urls = ['/', ...names.sort().map(name => `/${name}`)]
        chunk.code = chunk.code
          .replace('CORYMB_FILES', JSON.stringify(urls))
          .replace('CORYMB_VERSION', JSON.stringify(hash.digest('hex').slice(0, 16)))
        listed = urls
      },
    },
    closeBundle() {
      // One file missing makes the worker's install fail in silence.
      const missing = listed.filter(url => !existsSync(join(outDir, url)))
      if (missing.length > 0) throw new Error(`building the service worker: ${missing.join(', ')} is not in the build`)
    },
  }
}

function filesUnder(dir: string): string[] {
  const entries = readdirSync(dir, { recursive: true, withFileTypes: true })
  return entries.filter(e => e.isFile()).map(e => relative(dir, join(e.parentPath, e.name)).replaceAll('\\', '/'))
}

function emptyExceptKeep(dir: string): void {
  for (const name of readdirSync(dir)) {
    if (name !== '.gitkeep') rmSync(join(dir, name), { recursive: true })
  }
}
