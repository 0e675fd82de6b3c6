// One seed: a few phones that work over a bad network, in front of a shed that may be killed, until all
// is healed and judged.

import type { Shed } from '../e2e/shed'
import type { FarmID } from '../src/crop/nouns'
import { pause } from './clock'
import { wrongsOf } from './judge'
import { Phone } from './phone'
import { Random } from './random'
import type { Standing } from './sheds'
import { Wire } from './wire'
import { Worker } from './work'

/** How long healing may take, in real ms: many times what it takes on a machine that is not overrun. */
const patience = 60_000
const hour = 3_600_000
/** Phones of a seed at most; one more looks at the end. */
export const mostPhones = 4
/** By how much wall clocks are off. */
const skews = [0, 0, 0, 90_000, -hour, 30 * hour, 400 * 24 * hour, -20_000 * 24 * hour] as const

export class World {
  private readonly random: Random
  private readonly workers: Worker[] = []
  private readonly wire: Wire

  private constructor(
    private readonly seed: number,
    private readonly shed: Shed,
    private readonly farm: FarmID,
    private readonly cookies: readonly string[],
    random: Random,
    wire: Wire,
  ) {
    this.random = random
    this.wire = wire
    const phones = random.between(2, mostPhones)
    for (let i = 1; i <= phones; i++) {
      const phone = new Phone(`s${seed} phone ${i}`, farm, wire.url, cookies[i - 1]!, random.fork(), random.pick(skews))
      phone.disk.failing = random.chance(0.4) ? 0.15 : 0
      this.workers.push(new Worker(seed, phone, random.fork()))
    }
  }

  /** Runs a seed on a shed and returns what went wrong. */
  static async run(seed: number, { shed, farm, cookies }: Standing): Promise<string[]> {
    const random = new Random(seed)
    const wire = await Wire.to(() => shed.port, random.fork())
    const world = new World(seed, shed, farm, cookies, random, wire)
    try {
      return await world.live()
    } finally {
      for (const { phone } of world.workers) phone.kill()
      await wire.close()
    }
  }

  private async live(): Promise<string[]> {
    const { random, workers } = this
    const large = random.chance(0.1) ? random.pick(workers) : undefined
    const trouble = this.troubleTheShed(random.fork())
    await Promise.all(workers.map(worker => this.workOn(worker, worker === large, random.fork())))
    await trouble
    await this.heal()
    return await this.judge(new Phone(`s${this.seed} fresh phone`, this.farm, shedURL(this.shed), this.cookies[mostPhones]!, random.fork(), 0))
  }

  private async judge(fresh: Phone): Promise<string[]> {
    const phones = this.workers.map(({ phone }) => phone)
    try {
      const unsent = await notYet(phones, phone => phone.isSettled)
      if (unsent.length > 0) return unsent
      await fresh.start()
      const unread = await notYet([fresh], phone => phone.isSettled)
      const behind = await notYet(phones, phone => phone.isSettled && phone.arrival === fresh.arrival)
      return [...unread, ...behind, ...fresh.wrongs, ...wrongsOf(this.workers, fresh)]
    } finally {
      fresh.kill()
    }
  }

  private async workOn(worker: Worker, large: boolean, random: Random): Promise<void> {
    const { phone } = worker
    const turns = random.between(6, 16)
    const largeAt = large ? random.between(1, turns) : 0
    for (let turn = 1; turn <= turns; turn++) {
      if (phone.on && random.chance(0.07)) phone.kill()
      if (!phone.on) await phone.start()
      await pause(random.chance(0.2) ? random.between(0, 60) : random.between(0, 8))
      if (!phone.on) continue
      const working = turn === largeAt ? worker.workLarge() : worker.work()
      if (random.chance(0.05)) phone.kill() // while it is stored
      await working
    }
  }

  private async troubleTheShed(random: Random): Promise<void> {
    if (random.chance(0.4)) {
      await pause(random.between(0, 200))
      await this.wire.outage(random.between(1, 200))
    }
    if (random.chance(0.2)) {
      await pause(random.between(0, 150))
      await this.shed.kill()
      await this.shed.start()
    }
  }

  /** The network, the disks and the phones are well again; nobody does anything more. */
  private async heal(): Promise<void> {
    this.wire.heal()
    for (const { phone } of this.workers) {
      phone.disk.failing = 0
      if (!phone.on) await phone.start()
    }
  }
}

/** Waits until it holds of every phone; tells of which it does not. */
async function notYet(phones: readonly Phone[], holds: (phone: Phone) => boolean): Promise<string[]> {
  for (const end = performance.now() + patience; performance.now() < end; await pause(5)) {
    if (phones.every(holds)) return []
  }
  const left = phones.filter(phone => !holds(phone))
  return [`not settled ${patience / 1000} s after everything was healed`, ...left.map(phone => phone.describe())]
}

function shedURL({ url }: Shed): string {
  return `${url.replace('http', 'ws')}/sync`
}
