// A walk over the real walk.notebook, with the disk in memory.

import { describe, expect, it } from 'vitest'
import { toOrderFact, withdrawnFact } from '../crop/facts'
import type { Day, LengthClass, Plant, PlantID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { ChangedSince } from '../ui/taps'
import { today } from '../ui/today'
import { viewOf } from './day'
import { Session } from './session'
import { a, b, bed, c, day, far, other, plain, walkOfEach } from './testing/walk'
import { endText } from './WalkEnd'

const walk = walkOfEach()
const { settled, state, nothings } = walk
const codes = (plants: readonly Plant[]) => plants.map(({ code }) => code)
const cutVisit = (id: PlantID) => walk.notebook.farm.value.visits.get(walk.notebook.visitID(id, day, 'cut'))

describe('closing a bed', () => {
  it('says "nothing here" of every untouched counted plant, in one record, and of no other', async () => {
    walk.session.digit(a, 4)
    await settled()
    const before = walk.commits
    await walk.session.closeBed(bed)
    expect(walk.commits).toBe(before + 1)
    expect(nothings()).toEqual([b, c])
    expect(walk.session.position.value?.at).toBe('')
    expect(walk.session.untouched(bed)).toEqual([])
  })

  it('says nothing of a plant whose number was on its way to the disk', async () => {
    walk.session.digit(a, 4)
    await walk.session.closeBed(bed)
    expect(nothings()).toEqual([b, c])
    expect(walk.session.last()).toMatchObject({ kind: 'closed', visits: [{ plant: b }, { plant: c }] })
  })

  it('is taken back whole by one tap, in one record', async () => {
    walk.session.digit(a, 4)
    await settled()
    await walk.session.closeBed(bed)
    const before = walk.commits
    await walk.session.takeBack()
    await settled()
    expect(walk.commits).toBe(before + 2) // and where the walk stands
    expect(nothings()).toEqual([])
    expect(codes(walk.session.untouched(bed))).toEqual(['b', 'c'])
    expect(state(a).stems).toBe(4)
    expect(walk.session.last()).toMatchObject({ kind: 'count', plant: a })
  })

  it('can be done again after it was taken back', async () => {
    await walk.session.closeBed(bed)
    await walk.session.takeBack()
    await walk.session.closeBed(bed)
    expect(nothings()).toEqual([a, b, c])
  })

  it('twice at once is once', async () => {
    await Promise.all([walk.session.closeBed(bed), walk.session.closeBed(bed)])
    expect(walk.session.journal.value?.actions).toHaveLength(1)
  })

  it('leaves no trace where nobody was left', async () => {
    for (const id of [a, b, c]) walk.session.digit(id, 1)
    await settled()
    const before = walk.session.journal.value
    await walk.session.closeBed(bed)
    expect(walk.session.journal.value).toBe(before)
  })

  it('gives way to stems that are found after all', async () => {
    await walk.session.closeBed(bed)
    walk.session.jump(b)
    walk.session.digit(b, 3)
    await settled()
    expect(nothings()).toEqual([a, c])
    expect(state(b)).toEqual({ seen: true, stems: 3 })
  })
})

describe('"nothing here"', () => {
  it('is not said of a plant whose stem was on its way to the disk, and the walk goes on', async () => {
    walk.session.stem(a, 'extra', untoldLength)
    await walk.session.nothing(a) // the button still says so
    await settled()
    expect(nothings()).toEqual([])
    expect(state(a)).toEqual({ seen: true, stems: 1 })
    expect(walk.session.position.value?.at).toBe(b)
    expect(walk.session.journal.value?.actions).toMatchObject([{ kind: 'count', plant: a }])
  })

  it('is said of a plant whose only stem was taken back', async () => {
    walk.session.stem(a, 'extra', untoldLength)
    await settled()
    await walk.session.takeBack()
    await walk.session.nothing(a)
    expect(nothings()).toEqual([a])
  })
})

describe('cut clean or to order', () => {
  it('is what the bed is set to', async () => {
    walk.session.digit(a, 4)
    await settled()
    walk.session.setWay(bed, { toOrder: true })
    walk.session.digit(b, 2)
    await settled()
    expect([cutVisit(a)?.toOrder, cutVisit(b)?.toOrder]).toEqual([false, true])
  })

  it('changes nothing that is stored when it is turned', async () => {
    walk.session.digit(a, 4)
    await settled()
    walk.session.setWay(bed, { toOrder: true })
    await settled()
    expect(cutVisit(a)?.toOrder).toBe(false)
  })

  it.each([[true], [false]])('is taken over by a plant that is counted again (to order: %s), and given back with the count', async (later) => {
    walk.session.setWay(bed, { toOrder: !later })
    walk.session.digit(a, 4)
    await settled()
    walk.session.jump(a)
    walk.session.setWay(bed, { toOrder: later })
    walk.session.digit(a, 2)
    await settled()
    expect(cutVisit(a)?.toOrder).toBe(later)
    await walk.session.takeBack()
    expect([cutVisit(a)?.toOrder, state(a).stems]).toEqual([!later, 4])
  })

  it('stays as it was put right by hand when a count is taken back', async () => {
    for (const stems of [4, 2]) {
      walk.session.jump(a)
      walk.session.digit(a, stems)
      await settled()
    }
    await walk.notebook.record([toOrderFact(walk.notebook.visitID(a, day, 'cut'), true)])
    await walk.session.takeBack()
    expect([cutVisit(a)?.toOrder, state(a).stems]).toEqual([true, 4])
  })

  it('is decided by the last of two counts that are stored together', async () => {
    walk.session.stem(a, 'extra', untoldLength)
    walk.session.stem(a, 'extra', untoldLength) // waits while the first is stored, with the next
    walk.session.setWay(bed, { toOrder: true })
    walk.session.stem(a, 'first', untoldLength)
    await settled()
    expect([cutVisit(a)?.toOrder, state(a).stems]).toEqual([true, 3])
  })

  it('is remembered for each bed on this device', async () => {
    walk.session.setWay(bed, { toOrder: true })
    await settled()
    const again = new Session(walk.notebook)
    expect([again.ways.of(bed).toOrder, again.ways.of(other).toOrder]).toEqual([true, false])
  })
})

it('a count whose visit was taken away as a repeat is not taken back as well', async () => {
  walk.session.digit(a, 4)
  await settled()
  walk.session.digit(b, 2)
  await settled()
  await walk.notebook.record([withdrawnFact('visit', walk.notebook.visitID(b, day, 'cut'), true)])
  await walk.session.takeBack()
  await settled()
  expect(walk.session.failure.value).toBeInstanceOf(ChangedSince)
  expect(walk.notebook.looks.value).toEqual([])
  expect(walk.session.last()).toMatchObject({ kind: 'count', plant: a })
})

it('a visit whose day is corrected is seen on that day alone', async () => {
  walk.session.digit(a, 4)
  await settled()
  const fact = { scope: 'field', op: 'set', type: 'visit', id: walk.notebook.visitID(a, day, 'cut'), field: 'date', value: '2026-06-02' } as const
  await walk.notebook.record([fact])
  expect([state(a).seen, viewOf(walk.notebook.farm.value, '2026-06-02' as Day).state(a).stems]).toEqual([false, 4])
})

describe('whom to call out', () => {
  it('is the counted plants, or every plant once asked, remembered for the bed', async () => {
    expect(codes(walk.session.order(bed))).toEqual(['a', 'b', 'c'])
    walk.session.setWay(bed, { whom: 'all' })
    await settled()
    expect(codes(new Session(walk.notebook).order(bed))).toEqual(['a', 'plain', 'b', 'c'])
  })

  it('leaves an uncounted plant without a word when the bed is closed', async () => {
    walk.session.setWay(bed, { whom: 'all' })
    await walk.session.closeBed(bed)
    expect(nothings()).toEqual([a, b, c])
  })
})

describe('a bed that is opened again', () => {
  it('goes on where the walk stood, since a plant that was passed by leaves no trace', async () => {
    walk.session.setWay(bed, { whom: 'all' })
    walk.session.open(bed)
    for (const _ of [a, plain, b]) walk.session.next()
    expect(walk.session.position.value?.at).toBe(c)
    walk.session.open(bed)
    expect(walk.session.position.value?.at).toBe(c)
    walk.session.close()
    await settled()
    walk.session.open(other)
    walk.session.open(bed)
    expect(walk.session.position.value?.at).toBe(c)
    walk.session.jump(far)
    await settled()
    const again = new Session(walk.notebook)
    again.open(bed)
    expect(again.position.value?.at).toBe(c)
  })

  it('begins anew on another day', () => {
    walk.session.setWay(bed, { whom: 'all' })
    walk.session.open(bed)
    walk.session.next()
    walk.session.close()
    today.value = '2026-06-04' as Day
    walk.session.open(bed)
    expect(walk.session.position.value?.at).toBe(a)
  })

  it('begins with the first plant once every plant is called out', () => {
    walk.session.next()
    walk.session.setWay(bed, { whom: 'all' })
    walk.session.open(bed)
    expect(walk.session.position.value?.at).toBe(a)
  })

  it('comes back to counted plants that were passed by', () => {
    walk.session.next()
    walk.session.open(bed)
    expect(walk.session.position.value?.at).toBe(a)
  })
})

describe('the end of a walk', () => {
  it('tells of plants that were jumped to as of those that were called out', async () => {
    walk.session.digit(a, 4)
    walk.session.jump(plain)
    walk.session.digit(plain, 3)
    await settled()
    await walk.session.nothing(b)
    walk.session.jump(c)
    walk.session.digit(c, 2)
    await settled()
    await walk.session.takeBack() // nobody has seen that one
    walk.session.jump(far)
    walk.session.digit(far, 5)
    await settled()
    expect(endText(viewOf(walk.notebook.farm.value, day), bed)).toBe('The end of the walk: **7 stems** from 3 plants.')
  })
})

describe('jumping', () => {
  it('calls out an uncounted plant once, and goes on from its place', async () => {
    walk.session.jump(plain)
    expect(codes(walk.session.order(bed))).toEqual(['a', 'plain', 'b', 'c'])
    walk.session.digit(plain, 2)
    await settled()
    expect(walk.session.position.value?.at).toBe(b)
    expect(codes(walk.session.order(bed))).toEqual(['a', 'b', 'c'])
  })

  it('goes to a plant of another bed, and back to the first when its count is taken back', async () => {
    walk.session.digit(a, 4)
    await settled()
    walk.session.jump(far)
    expect(walk.session.position.value).toMatchObject({ bed: other, at: far })
    await walk.session.takeBack()
    expect(walk.session.position.value).toMatchObject({ bed, at: a })
  })

  it('goes nowhere for a plant that is in no bed', () => {
    expect(walk.session.jump('nobody' as PlantID)).toBe(false)
    expect(walk.session.position.value?.at).toBe(a)
  })
})

describe('the cell to count in again', () => {
  const fifty = { lo: 500, hi: 600 } as LengthClass

  it('is that of a stem that is still on its way to the disk', async () => {
    expect(walk.session.lastGraded()).toBeUndefined()
    walk.session.stem(a, 'first', fifty)
    expect(walk.session.lastGraded()).toMatchObject({ grade: 'first', length: fifty })
    await settled()
    expect(walk.session.lastGraded()).toMatchObject({ grade: 'first', length: fifty })
  })

  it('is the one before where the last was taken back', async () => {
    walk.session.stem(a, 'first', fifty)
    walk.session.stem(a, 'extra', fifty)
    await settled()
    await walk.session.takeBack()
    expect(walk.session.lastGraded()).toMatchObject({ grade: 'first' })
  })
})
