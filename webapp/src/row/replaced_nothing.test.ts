// Stems counted after "nothing here" was said of their plant, and taken back.

import { describe, expect, it } from 'vitest'
import { untoldLength } from '../crop/nouns'
import { Session } from './session'
import { a, b, bed, c, walkOfEach } from './testing/walk'

const walk = walkOfEach()
const { settled, state, nothings } = walk

describe('"nothing here" that a count replaced', () => {
  /** Says "nothing here" of the first plant, and goes back there. */
  async function saidNothing() {
    await walk.session.nothing(a)
    walk.session.jump(a)
    await settled()
  }
  const backAgain = () => {
    expect(nothings()).toEqual([a])
    expect(state(a)).toEqual({ seen: true, stems: 0 })
  }

  it('is back once the count is taken back, and can be taken back itself', async () => {
    await saidNothing()
    walk.session.digit(a, 4)
    await settled()
    expect(nothings()).toEqual([])
    await walk.session.takeBack()
    backAgain()
    await walk.session.takeBack()
    expect(state(a).seen).toBe(false)
  })

  it('is back also where the app was closed meanwhile', async () => {
    await saidNothing()
    walk.session.digit(a, 4)
    await settled()
    await new Session(walk.notebook).takeBack()
    backAgain()
  })

  it('is back where a closed bed had said it', async () => {
    await walk.session.closeBed(bed)
    walk.session.jump(a)
    walk.session.digit(a, 4)
    await settled()
    await walk.session.takeBack()
    expect(nothings().toSorted()).toEqual([a, b, c])
  })

  it.each([['one by one', true], ['at once', false]])('is back with the last of several stems, stored and taken back %s', async (_, waits) => {
    await saidNothing()
    for (let i = 0; i < 3; i++) {
      walk.session.stem(a, 'extra', untoldLength)
      if (waits) await settled()
    }
    await settled()
    for (const left of [2, 1]) {
      const taken = walk.session.takeBack()
      if (!waits) continue
      await taken
      expect([nothings(), state(a).stems]).toEqual([[], left])
    }
    await walk.session.takeBack()
    await settled()
    backAgain()
  })

  it.each([
    ['after', ['back', 'count']],
    ['before', ['count', 'back']],
  ])('stays unsaid where a stem is counted just %s the only one is taken back, and is back with that', async (_, order) => {
    await saidNothing()
    walk.session.stem(a, 'extra', untoldLength)
    await settled()
    walk.session.digit(b, 1) // while this is on its way to the disk, the next two wait and are then stored together
    for (const next of order) {
      if (next === 'back') void walk.session.takeBack()
      else walk.session.stem(a, 'first', untoldLength)
    }
    await settled()
    expect([nothings(), state(a).stems]).toEqual([[], 1])
    await walk.session.takeBack()
    await settled()
    backAgain()
  })

  it('is not said by taking back a count of a plant of which it had been taken back itself', async () => {
    await saidNothing()
    await walk.session.takeBack()
    walk.session.digit(a, 4)
    await settled()
    await walk.session.takeBack()
    expect(state(a).seen).toBe(false)
  })

  it('stays as it is with a journal that does not tell of it yet', async () => {
    await saidNothing()
    walk.session.digit(a, 4)
    await settled()
    for (const action of walk.session.journal.value?.actions ?? []) if (action.kind === 'count') delete action.nothing
    await walk.session.takeBack()
    expect([nothings(), state(a)]).toEqual([[], { seen: false, stems: 0 }])
  })
})
