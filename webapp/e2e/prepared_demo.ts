// The demo that every test begins with a copy of: made once for a whole run, with what the shed works out of it. To fit
// the model by age takes longer than most tests do.

import { cpSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { request } from 'playwright-core'
import type { TestProject } from 'vitest/node'
import { joinBy } from './joining'
import { openShedIn, scratchFolder } from './shed'

/** How a shed names the files in which it keeps its answers. */
const answerFile = /^corymb\.answer-/

/** What every phone asks for as soon as it is on the line: whatever lacks here, each test's shed works out again. */
const asked = ['/api/ages', '/api/colour', '/api/forecast']

const patient = { timeout: 120_000 }

/** What a shed answers that goes on working it out, and how long it is asked on a busy machine. */
const tooSlow = 503
const longest = 600_000

export default async function prepareDemo(project: TestProject): Promise<() => void> {
  const untouched = scratchFolder('demo')
  await (await openShedIn(untouched, 'demo')).stop()
  await bringAnswers(untouched)
  project.provide('preparedDemo', untouched)
  return () => rmSync(untouched, { recursive: true, force: true })
}

/** Asks a copy, since whoever asks has joined: in the demo itself nobody has. */
async function bringAnswers(untouched: string): Promise<void> {
  const copy = scratchFolder('demo')
  cpSync(untouched, copy, { recursive: true })
  const shed = await openShedIn(copy, 'demo')
  try {
    const device = await request.newContext({ baseURL: shed.url, extraHTTPHeaders: { cookie: await joinBy(shed, '') } })
    for (const path of asked) {
      const until = Date.now() + longest
      let answer = await device.get(path, patient)
      while (answer.status() === tooSlow && Date.now() < until) {
        await new Promise((resolve) => setTimeout(resolve, 500))
        answer = await device.get(path, patient)
      }
      if (!answer.ok()) throw new Error(`asking the demo for ${path}: ${answer.status()} ${await answer.text()}`)
    }
    await device.dispose()
    const files = await answersIn(copy)
    for (const name of files) cpSync(join(copy, name), join(untouched, name))
  } finally {
    await shed.kill()
    rmSync(copy, { recursive: true, force: true })
  }
}

/** The files of answers, which a shed writes after it has answered. */
async function answersIn(folder: string): Promise<string[]> {
  const until = Date.now() + patient.timeout
  for (;;) {
    const files = readdirSync(folder).filter((name) => answerFile.test(name))
    if (files.length === asked.length) return files
    if (Date.now() > until) throw new Error(`the demo kept its answers in ${files.join(', ')}: ${asked.length} files were expected`)
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
}
