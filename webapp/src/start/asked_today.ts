// What today asks of who holds this device, and no more: each thing one number, the first to be done first. Work that has
// no page for a person is not told to them; nothing here is money.

import { overdueOn } from '../crop/overdue'
import { buyerName, dueBetween } from '../crop/due'
import type { Role } from '../crop/member'
import type { BedID, Day } from '../crop/nouns'
import { bunchesPacked } from '../crop/over_packed'
import type { Sales } from '../crop/sale_nouns'
import { dueNow, type TaskNow } from '../crop/tasks'
import type { Ahead } from '../crop/ahead_nouns'
import type { SyncStatus } from '../sync/notebook'
import { inReach } from '../sync/reach'
import type { BackupKnown } from './backup_known'
import type { OpenWalk } from './open_walk'

export interface BedCut {
  readonly bed: BedID
  readonly stems: number
}

export type Asked =
  /** Stems still to be cut today, by bed in the order of the walk. */
  | { readonly kind: 'cut'; readonly stems: number; readonly beds: readonly BedCut[] }
  | { readonly kind: 'tasks'; readonly tasks: readonly TaskNow[] }
  /** Deliveries due today, or before and never packed, of which bunches are still to be packed; the buyers once each. */
  | { readonly kind: 'pack'; readonly deliveries: number; readonly bunches: number; readonly buyers: readonly string[]; readonly day: Day }
  /** Asks for a day to come that nobody answered. */
  | { readonly kind: 'asks'; readonly n: number }
  | { readonly kind: 'looks'; readonly n: number }
  /** A walk that was begun and neither ended nor closed. */
  | ({ readonly kind: 'open' } & OpenWalk)
  /** Changes, and photos, that are on this device alone. */
  | { readonly kind: 'unsent'; readonly n: number }
  /** Changes that the shed did not keep. */
  | { readonly kind: 'not_kept'; readonly n: number }
  /** Milliseconds since the last good backup; undefined where there never was one. */
  | { readonly kind: 'backup'; readonly age: number | undefined }

export type AskedKind = Asked['kind']

/** What a page that tells of today looks at. */
export interface Standing {
  readonly today: Day
  /** Milliseconds since 1970. */
  readonly now: number
  readonly cuts: readonly BedCut[]
  readonly tasks: readonly TaskNow[]
  readonly sales: Sales
  readonly ahead: Ahead
  readonly looks: number
  readonly open: OpenWalk | undefined
  readonly sync: Pick<SyncStatus, 'link' | 'pending' | 'sent' | 'notKept'>
  readonly barred: boolean
  /** Photos that are on this device alone. */
  readonly photos: number
  /** What the shed last told of its backups; undefined where it told nothing. */
  readonly backup: BackupKnown | undefined
}

/** A viewer cuts, counts and settles nothing; backups and promises are the owners'. */
const toldTo: Readonly<Record<AskedKind, readonly Role[]>> = {
  cut: ['owner', 'crew'], tasks: ['owner', 'crew', 'viewer'], pack: ['owner', 'crew', 'viewer'], asks: ['owner'],
  looks: ['owner', 'crew'], open: ['owner', 'crew'], unsent: ['owner', 'crew', 'viewer'], not_kept: ['owner', 'crew', 'viewer'],
  backup: ['owner'],
}

/** What is to be done, before what is to be put in order. */
export function askedToday(role: Role, standing: Standing): Asked[] {
  const all = [
    cut(standing), tasks(standing), pack(standing), asks(standing),
    looks(standing), open(standing), notKept(standing), unsent(standing), backup(standing),
  ]
  return all.flatMap((one) => (one && toldTo[one.kind].includes(role) ? [one] : []))
}

const work: readonly AskedKind[] = ['cut', 'tasks', 'pack', 'asks']

/** Whether it is work of the day, and not something to put in order. */
export function isWork({ kind }: Asked): boolean {
  return work.includes(kind)
}

function cut({ cuts }: Standing): Asked | undefined {
  const beds = cuts.filter(({ stems }) => stems > 0)
  return beds.length > 0 ? { kind: 'cut', stems: beds.reduce((sum, { stems }) => sum + stems, 0), beds } : undefined
}

function tasks(standing: Standing): Asked | undefined {
  const due = dueNow(standing.tasks)
  return due.length > 0 ? { kind: 'tasks', tasks: due } : undefined
}

function pack({ sales, today }: Standing): Asked | undefined {
  const short = [...overdueOn(sales, today), ...dueBetween(sales, today, today)].flatMap(({ buyer, day, lines }) => {
    const bunches = lines.reduce((sum, line) => sum + Math.max(0, line.bunches - bunchesPacked(sales, line.id)), 0)
    return bunches > 0 ? [{ buyer: buyerName(sales, buyer), day, bunches }] : []
  })
  const [first] = short
  if (!first) return undefined
  const buyers = [...new Set(short.map(({ buyer }) => buyer))]
  return { kind: 'pack', deliveries: short.length, bunches: short.reduce((sum, { bunches }) => sum + bunches, 0), buyers, day: first.day }
}

function asks({ ahead, today }: Standing): Asked | undefined {
  const n = [...ahead.asks.values()].filter(({ answer, due }) => answer === '' && due >= today).length
  return n > 0 ? { kind: 'asks', n } : undefined
}

function looks({ looks: n }: Standing): Asked | undefined {
  return n > 0 ? { kind: 'looks', n } : undefined
}

function open({ open: walk }: Standing): Asked | undefined {
  return walk && { kind: 'open', ...walk }
}

function notKept({ sync }: Standing): Asked | undefined {
  return sync.notKept > 0 ? { kind: 'not_kept', n: sync.notKept } : undefined
}

/** What is on its way while the shed is in reach is gone before anybody has read of it. */
function unsent({ sync, barred, photos }: Standing): Asked | undefined {
  const onItsWay = !barred && inReach(sync)
  const n = photos + (onItsWay ? 0 : sync.pending + sync.sent)
  return n > 0 ? { kind: 'unsent', n } : undefined
}

/** Milliseconds after which a last good backup is worth a word. */
export const oldBackup = 3 * 86_400_000

function backup({ backup: known, now }: Standing): Asked | undefined {
  if (!known) return undefined
  if (known.made === 0) return { kind: 'backup', age: undefined }
  const age = now - known.made
  return age > oldBackup ? { kind: 'backup', age } : undefined
}
