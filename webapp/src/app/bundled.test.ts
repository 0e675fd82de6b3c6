import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'

const web = join(import.meta.dirname, '../..')

const json = (...path: string[]): unknown => JSON.parse(readFileSync(join(...path), 'utf8'))

/** What a build is made of, by a build of its own: bundled.ts writes it. */
function bundled(): readonly string[] {
  const scratch = mkdtempSync(join(tmpdir(), 'corymb-bundled-'))
  const list = join(scratch, 'packages.json')
  try {
    const vite = join(web, 'node_modules/vite/bin/vite.js')
    execFileSync(process.execPath, [vite, 'build', '--logLevel', 'warn', '--outDir', scratch], { cwd: web, env: { ...process.env, CORYMB_BUNDLED: list } })
    return json(list) as string[]
  } finally {
    rmSync(scratch, { recursive: true })
  }
}

it('every package of which something is in the app is on the list of licences, in the version that is installed', { timeout: 60_000 }, () => {
  const list = json(web, '../server/about/dependencies.json') as { name: string; version: string }[]
  const listed = new Map(list.map(({ name, version }) => [name, version]))
  const packages = bundled()
  expect(packages).toContain('preact')
  for (const name of packages) {
    const { version } = json(web, 'node_modules', name, 'package.json') as { version: string }
    expect(`${name} ${listed.get(name) ?? 'is not listed: run go run ./server/release -licences'}`).toBe(`${name} ${version}`)
  }
})
