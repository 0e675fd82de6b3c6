import { describe, expect, it } from 'vitest'
import type { Ask } from '../crop/ahead_nouns'
import type { Role } from '../crop/member'
import type { BedID, Day, Millimetres } from '../crop/nouns'
import { lineFacts, orderFacts, packedCount, packedFacts } from '../crop/sale_facts'
import type { BuyerID, Cents, LineID, OrderID, PackedID } from '../crop/sale_nouns'
import type { TaskNow } from '../crop/tasks'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { type Asked, type AskedKind, askedToday, isWork, oldBackup, type Standing } from './asked_today'

const today = '2026-06-03' as Day
const now = Date.UTC(2026, 5, 3, 6)
const level: Standing['sync'] = { link: 'live', pending: 0, sent: 0, notKept: 0 }
const elder = 'elder' as BedID
const mill = 'mill' as BedID

const order = (id: string, due: string, bunches: number) => [
  ...orderFacts({ id: id as OrderID, buyer: 'bu' as BuyerID, due: due as Day, taken: '', note: '' }),
  ...lineFacts({
    id: `line ${id}` as LineID, order: id as OrderID, standing: '', bunch: '', bunches, stems: 10, grade: '', length: 0 as Millimetres, colours: [],
    whole: false, exact: false, price: 1250 as Cents,
  }),
]
const packed = (of: string, bunches: number, date = today) => [
  ...packedFacts({ id: `p ${of}` as PackedID, line: `line ${of}` as LineID, buyer: 'bu' as BuyerID, due: date, date, person: '' }),
  packedCount(`p ${of}` as PackedID, 'bunches', bunches),
]
const selling = (...facts: (readonly Fact[])[]) => farmSaid(...facts).sales
const asks = (...some: Partial<Ask>[]) =>
  ({ ...farmSaid().ahead, asks: new Map(some.map((one, i) => [`a${i}` as Ask['id'], one as Ask])) })

const quiet: Standing = {
  today, now, cuts: [], tasks: [], sales: selling(), ahead: asks(), looks: 0, open: undefined, sync: level, barred: false, photos: 0, backup: { made: now - 3600_000 },
}

/** Everything at once. */
const busy: Standing = {
  ...quiet, cuts: [{ bed: elder, stems: 60 }, { bed: mill, stems: 0 }], tasks: [{ state: 'late' }, { state: 'due' }, { state: 'coming' }, { state: 'done' }] as TaskNow[],
  sales: selling(order('a', '2026-06-03', 6), packed('a', 2)), ahead: asks({ answer: '', due: '2026-06-09' as Day }), looks: 2,
  open: { bed: elder, day: '2026-06-02' as Day, plants: 7 }, sync: { link: 'offline', pending: 3, sent: 1, notKept: 1 }, photos: 2,
  backup: { made: 0 },
}

const kinds = (asked: readonly Asked[]) => asked.map(({ kind }) => kind)
const one = <K extends AskedKind>(kind: K, role: Role, standing: Standing) => askedToday(role, standing).find((asked) => asked.kind === kind)

describe('who is told what', () => {
  it.each<[Role, readonly AskedKind[]]>([
    ['owner', ['cut', 'tasks', 'pack', 'asks', 'looks', 'open', 'not_kept', 'unsent', 'backup']],
    ['crew', ['cut', 'tasks', 'pack', 'looks', 'open', 'not_kept', 'unsent']],
    ['viewer', ['tasks', 'pack', 'not_kept', 'unsent']],
  ])('%s', (role, told) => {
    expect(kinds(askedToday(role, busy))).toEqual(told)
    expect(kinds(askedToday(role, quiet))).toEqual([])
  })

  it.each(['owner', 'crew', 'viewer'] as const)('%s is told no price', (role) => {
    expect(JSON.stringify(askedToday(role, busy))).not.toMatch(/price|cents|1250/i)
  })

  it('work comes before what is to be put in order', () => {
    const all = askedToday('owner', busy).map(isWork)
    expect(all.lastIndexOf(true)).toBeLessThan(all.indexOf(false))
  })
})

it('beds of which nothing is left to cut are not named, and with none the cut is not either', () => {
  expect(one('cut', 'crew', busy)).toEqual({ kind: 'cut', stems: 60, beds: [{ bed: elder, stems: 60 }] })
  expect(one('cut', 'crew', { ...busy, cuts: [{ bed: mill, stems: 0 }] })).toBeUndefined()
})

it('only tasks that are due or late are told', () => {
  expect(one('tasks', 'viewer', busy)).toMatchObject({ tasks: [{ state: 'late' }, { state: 'due' }] })
})

describe('deliveries to pack', () => {
  it.each<[string, ReturnType<typeof selling>, object | undefined]>([
    ['of which a part is packed', busy.sales, { deliveries: 1, bunches: 4, day: today }],
    ['that are packed', selling(order('a', '2026-06-03', 6), packed('a', 6)), undefined],
    ['for another day', selling(order('a', '2026-06-04', 6)), undefined],
    ['of yesterday of which nothing was packed', selling(order('a', '2026-06-02', 6), order('b', '2026-06-03', 1)), { deliveries: 2, bunches: 7, day: '2026-06-02' }],
    ['of yesterday that went out short', selling(order('a', '2026-06-02', 6), packed('a', 5, '2026-06-02' as Day)), undefined],
  ])('%s', (_, sales, told) => {
    const found = one('pack', 'owner', { ...quiet, sales })
    if (told) expect(found).toMatchObject(told)
    else expect(found).toBeUndefined()
  })
})

it.each<[string, Partial<Ask>, boolean]>([
  ['open for a day to come', { answer: '', due: '2026-06-03' as Day }, true],
  ['open for a day that is over', { answer: '', due: '2026-06-02' as Day }, false],
  ['promised', { answer: 'promised', due: '2026-06-09' as Day }, false],
])('an ask that is %s', (_, ask, told) => {
  expect(one('asks', 'owner', { ...quiet, ahead: asks(ask) }) !== undefined).toBe(told)
})

describe('what is on this device alone', () => {
  it.each<[string, Partial<Standing>, number | undefined]>([
    ['with no signal', { sync: { ...level, link: 'offline', pending: 3, sent: 1 } }, 4],
    ['on its way: it is gone before it is read', { sync: { ...level, link: 'live', pending: 3, sent: 1 } }, undefined],
    ['where the shed lets the device in no more', { sync: { ...level, link: 'live', pending: 3 }, barred: true }, 3],
    ['photos, that take their time', { photos: 2 }, 2],
    ['nothing', { sync: { ...level, link: 'offline' } }, undefined],
  ])('%s', (_, part, n) => {
    expect(one('unsent', 'crew', { ...quiet, ...part })).toEqual(n === undefined ? undefined : { kind: 'unsent', n })
  })
})

describe('the last backup', () => {
  it.each<[string, Standing['backup'], object | undefined]>([
    ['is told once it is old', { made: now - oldBackup - 1 }, { age: oldBackup + 1 }],
    ['is not told before', { made: now - oldBackup }, undefined],
    ['is told where there never was one', { made: 0 }, { age: undefined }],
    ['is not told where the shed told nothing of it', undefined, undefined],
  ])('%s', (_, backup, told) => {
    expect(one('backup', 'owner', { ...quiet, backup })).toEqual(told && { kind: 'backup', ...told })
  })
})
