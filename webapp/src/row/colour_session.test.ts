// A colour session over the real notebook, with the disk in memory.

import { beforeEach, describe, expect, it } from 'vitest'
import { readingFacts, referenceFacts } from '../crop/facts'
import type { PlantID, ReadingID } from '../crop/nouns'
import { readingWith } from '../crop/testing/nouns'
import { today } from '../ui/today'
import { ColourSession } from './colour_session'
import { a, b, bed, c, day, far, plain, TestWalk } from './testing/walk'

let walk: TestWalk
let session: ColourSession

beforeEach(() => {
  walk = new TestWalk()
  session = ColourSession.of(walk.notebook)
})

async function photographed(plant: PlantID): Promise<void> {
  await walk.notebook.record(readingFacts(readingWith({ id: `r ${plant}` as ReadingID, plant, date: day })))
}

const at = () => [session.state(bed)?.step, session.state(bed)?.at]

describe('a session', () => {
  it('begins with the card, goes to the reference plants, then to those planned, and ends', async () => {
    await walk.notebook.record(referenceFacts(far, true))
    session.begin(bed, [far], [a, b])
    expect(at()).toEqual(['card', ''])
    session.next(bed)
    expect(at()).toEqual(['references', far])
    await photographed(far)
    session.next(bed)
    expect(at()).toEqual(['plants', a])
    session.next(bed) // skipped
    expect(at()).toEqual(['plants', b])
    session.next(bed)
    expect(at()).toEqual(['end', ''])
  })

  it('passes by who was photographed today already', async () => {
    await photographed(a)
    session.begin(bed, [], [a, b])
    session.next(bed)
    expect(at()).toEqual(['plants', b])
  })

  it('goes to a plant that was not planned, and on from there to those that were', () => {
    session.begin(bed, [], [a, b, c])
    session.next(bed)
    session.goTo(bed, plain)
    expect(at()).toEqual(['plants', plain])
    expect(session.state(bed)?.plants).toEqual([a, plain, b, c])
    session.next(bed)
    expect(at()).toEqual(['plants', b])
    session.goTo(bed, a)
    expect(session.state(bed)?.plants).toEqual([a, plain, b, c])
  })

  it('goes back from the end to who is left, and to the card', () => {
    session.begin(bed, [far], [a])
    for (let i = 0; i < 3; i++) session.next(bed)
    expect(at()).toEqual(['end', ''])
    session.goTo(bed, far)
    expect(at()).toEqual(['references', far])
    session.toCard(bed)
    expect(at()).toEqual(['card', ''])
  })

  it('goes on where it stood once the app is opened again, and is over the next day', async () => {
    session.begin(bed, [], [a, b])
    session.next(bed)
    await walk.settled()
    const reopened = new ColourSession(walk.notebook)
    expect(reopened.state(bed)?.at).toBe(a)
    today.value = '2026-06-04' as typeof day
    expect(reopened.state(bed)).toBeUndefined()
  })
})
