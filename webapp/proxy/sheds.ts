// The real servers that the seeds run on. A farm is one data folder, so a shed serves one seed at a
// time and several in turn, whose phones and entities are their own.

import { execFile } from 'node:child_process'
import { rmSync } from 'node:fs'
import { promisify } from 'node:util'
import { joinMany } from '../e2e/joining'
import { openShed, scratchFolder, type Shed } from '../e2e/shed'
import type { FarmID } from '../src/crop/nouns'
import { mostPhones } from './world'

/** Every later seed's phones read what all those before wrote, which costs more than a new shed. */
const seedsOfAShed = 10

/** A shed that runs, its farm, and the tokens of a device for each phone. */
export interface Standing {
  readonly shed: Shed
  readonly farm: FarmID
  readonly cookies: readonly string[]
  readonly data: string
  readonly seeds: number[]
}

export class Sheds {
  private readonly idle: Standing[] = []
  private readonly all = new Set<Standing>()

  /** Runs a seed on a shed that is free; what verify finds wrong with the data is added to the wrongs. */
  async lend(seed: number, run: (standing: Standing) => Promise<string[]>): Promise<string[]> {
    const standing = this.idle.pop() ?? (await open())
    this.all.add(standing)
    standing.seeds.push(seed)
    const wrongs = await run(standing)
    if (standing.seeds.length < seedsOfAShed && wrongs.length === 0) {
      this.idle.push(standing)
      return []
    }
    this.all.delete(standing)
    return [...wrongs, ...(await close(standing))]
  }

  /** Closes those too whose seed took too long. */
  async close(): Promise<string[]> {
    return (await Promise.all([...this.all].map(close))).flat()
  }
}

async function open(): Promise<Standing> {
  const data = scratchFolder('proxy')
  const shed = await openShed('serve', { data, cwd: data })
  const cookies = await joinMany(shed, mostPhones + 1)
  const answer = await fetch(`${shed.url}/api/farm`, { headers: { cookie: cookies[0]! } })
  const { farm } = (await answer.json()) as { farm: FarmID }
  return { shed, farm, cookies, data, seeds: [] }
}

/** Kills it as a power cut would, and has its data verified: log and merge state must say the same. */
async function close({ shed, data, seeds }: Standing): Promise<string[]> {
  await shed.close()
  try {
    await promisify(execFile)(process.env['CORYMB_BINARY']!, ['verify', '-data', data], { cwd: data })
    return []
  } catch (reason) {
    return [`verify after seeds ${seeds.join(', ')}: ${String(reason)}`]
  } finally {
    rmSync(data, { recursive: true, force: true })
  }
}
