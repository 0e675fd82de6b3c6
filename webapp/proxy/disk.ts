// A phone's database in memory. Each time the app starts it gets a store of its own on it; when the app
// is killed, that store takes nothing more, and a transaction under way is stored whole or not at all.

import { type Contents, type Store, StorageError, type Write } from '../src/db/records'
import { Disk } from '../src/sync/testing/phone'
import { pause } from './clock'
import type { Random } from './random'

export class PhoneDisk {
  private readonly disk = new Disk()
  /** How likely a transaction is to fail. */
  failing = 0

  constructor(private readonly random: Random) {}

  contents(): Contents {
    return this.disk.contents()
  }

  open(): KillableStore {
    return new KillableStore(this.disk, this.random, () => this.failing)
  }
}

/** Never answers again, as a process that is gone. */
const never = new Promise<never>(() => {})

export class KillableStore implements Store {
  private killed = false

  constructor(
    private readonly disk: Disk,
    private readonly random: Random,
    private readonly failing: () => number,
  ) {}

  kill(): void {
    this.killed = true
  }

  async commit(writes: readonly Write[]): Promise<void> {
    if (this.random.chance(this.failing())) {
      throw new StorageError(this.random.pick(['full', 'unavailable'] as const), 'storing records: the disk of this test fails')
    }
    if (this.random.chance(0.2)) await pause(this.random.between(0, 4))
    if (this.killed) return never
    this.disk.commit(writes)
    await pause(0)
    if (this.killed) return never // stored, and nobody was told
  }

  close(): void {}
}
