// One tab at a time, over a lock manager that keeps the rules of the Web Locks standard.

import { describe, expect, test, vi } from 'vitest'
import { holdFarm } from './holding'

type Grant = (lock: object) => Promise<void>

/** Exclusive locks with signal and steal, which is all that is used. */
class Locks {
  private holder: { steal: () => void } | undefined
  private readonly queue: (() => void)[] = []

  async request(_name: string, options: LockOptions, grant: Grant): Promise<void> {
    if (options.steal) this.holder?.steal()
    else if (this.holder) await this.turn(options.signal)
    await new Promise<void>((resolve, reject) => {
      const mine = { steal: () => reject(new DOMException('stolen', 'AbortError')) }
      this.holder = mine
      void grant({}).then(() => {
        if (this.holder === mine) this.holder = undefined
        resolve()
        this.queue.shift()?.()
      })
    })
  }

  private turn(signal: AbortSignal | undefined): Promise<void> {
    return new Promise((resolve, reject) => {
      this.queue.push(resolve)
      signal?.addEventListener('abort', () => reject(signal.reason as Error))
    })
  }
}

const manager = () => new Locks() as unknown as LockManager

describe('holding a farm', () => {
  test('the first tab holds it, the second is told', async () => {
    const locks = manager()
    expect(await holdFarm('f', false, () => {}, locks)).toBeTypeOf('function')
    expect(await holdFarm('f', false, () => {}, locks)).toBeUndefined()
  })

  test('a tab that lets go within a moment, as in a reload, is waited for', async () => {
    const locks = manager()
    const release = await holdFarm('f', false, () => {}, locks)
    setTimeout(() => release!(), 50)
    expect(await holdFarm('f', false, () => {}, locks)).toBeTypeOf('function')
  })

  test('a tab that is overtaken is told', async () => {
    const locks = manager()
    const lost = vi.fn()
    await holdFarm('f', false, lost, locks)
    expect(await holdFarm('f', true, () => {}, locks)).toBeTypeOf('function')
    await vi.waitFor(() => expect(lost).toHaveBeenCalledTimes(1))
  })
})
