// The real server as a browser test sees it: started on a free port with its own data, killed, and
// started again on the same data and the same port, since a phone's storage belongs to an origin.

import { type ChildProcess, spawn } from 'node:child_process'
import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { inject } from 'vitest'

declare module 'vitest' {
  export interface ProvidedContext {
    /** The folder of a demo as it is when it was just made, answers and all. */
    preparedDemo?: string
  }
}

export interface Shed {
  readonly url: string
  readonly port: number
  /** The code by which the first owner joins; '' where it told none. */
  readonly firstCode: string
  /** Ends the process as a power cut would. */
  kill(): Promise<void>
  /** Ends it as its owner would. */
  stop(): Promise<void>
  /** Starts it again on the same data and port. */
  start(): Promise<void>
  /** Kills it and removes its data. */
  close(): Promise<void>
}

/** A fresh folder below the system's own for temporary files. */
export function scratchFolder(purpose: string): string {
  return mkdtempSync(join(tmpdir(), `corymb-${purpose}-`))
}

export interface ShedOptions {
  /** A folder that the caller keeps; one of its own unless told. */
  readonly data?: string
  /** The folder that it runs in: outside of a checkout it serves the app that it carries and builds none. */
  readonly cwd?: string
  readonly flags?: readonly string[]
  readonly binary?: string
}

/** Opens a shed. A demo begins from a copy of the one that was made for the whole run, where one was. */
export async function openShed(command: 'serve' | 'demo', options: ShedOptions = {}): Promise<Shed> {
  const data = options.data ?? scratchFolder('shed')
  const prepared = command === 'demo' && options.binary === undefined ? inject('preparedDemo') : undefined
  if (prepared !== undefined) cpSync(prepared, data, { recursive: true })
  return openShedIn(data, command, options)
}

/** Opens a shed on a folder as it is. */
export async function openShedIn(data: string, command: 'serve' | 'demo', options: ShedOptions = {}): Promise<Shed> {
  const binary = options.binary ?? process.env['CORYMB_BINARY']
  if (binary === undefined) {
    throw new Error('CORYMB_BINARY names no server: run the browser tests through go run ./webapp/check')
  }
  let child: ChildProcess | undefined
  let port = 0
  let firstCode = ''
  const start = async () => {
    child = spawn(binary, [command, '-listen', `127.0.0.1:${port}`, '-data', data, ...(options.flags ?? [])], {
      stdio: ['ignore', 'pipe', 'inherit'], cwd: options.cwd ?? process.cwd(),
    })
    const said = await untilItListens(child)
    port = Number(/^Corymb is at http:\/\/127\.0\.0\.1:(\d+)/m.exec(said)?.[1])
    firstCode = /#join\/(\w+)/.exec(said)?.[1] ?? firstCode
  }
  const end = async (signal: 'SIGKILL' | 'SIGTERM') => {
    if (child === undefined || child.exitCode !== null || child.signalCode !== null) return
    const gone = new Promise((resolve) => child?.once('exit', resolve))
    child.kill(signal)
    await gone
  }
  const kill = () => end('SIGKILL')
  await start()
  return {
    get url() {
      return `http://127.0.0.1:${port}`
    },
    get port() {
      return port
    },
    get firstCode() {
      return firstCode
    },
    start,
    kill,
    stop: () => end('SIGTERM'),
    async close() {
      await kill()
      if (options.data === undefined) rmSync(data, { recursive: true, force: true })
    },
  }
}

/** What it says until it says where it is, which comes last. */
function untilItListens(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = ''
    child.stdout?.on('data', (chunk: Buffer) => {
      said += chunk.toString()
      if (/^Corymb is at .*\n/m.test(said)) resolve(said)
    })
    child.once('exit', (code) => reject(new Error(`the server ended with ${code}; it said: ${said}`)))
  })
}
