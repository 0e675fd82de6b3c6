// What is sold kept up to date entity by entity, with what a day needs filed by day.

import type { Entity, EntityKey } from '../log/state'
import { withdrawn } from '../log/read'
import { LiveBilling } from './billed'
import { LinesFound } from './lines_found'
import { lotCell } from './lots'
import { LiveLots } from './live_lots'
import { hasOtherStems, isOverPacked } from './over_packed'
import type { LineID, Packed, Sales, SaleTerms, Shrink } from './sale_nouns'
import {
  readBunch, readBuyer, readChannel, readClaim, readInvoice, readLine, readOrder, readPacked, readPrice, readShrink, readStanding, readTerms,
} from './sale_read'

export const noTerms: SaleTerms = { currency: '', seller: '', coolerDays: 0, overCut: 0, payDays: 0, taxRate: 0, taxName: '', breakCost: 0 }

const kinds = {
  channel: { map: 'channels', read: readChannel },
  buyer: { map: 'buyers', read: readBuyer },
  bunch: { map: 'bunches', read: readBunch },
  price: { map: 'prices', read: readPrice },
  order: { map: 'orders', read: readOrder },
  standing: { map: 'standings', read: readStanding },
  line: { map: 'lines', read: readLine },
  packed: { map: 'packed', read: readPacked },
  shrink: { map: 'shrink', read: readShrink },
  claim: { map: 'claims', read: readClaim },
  invoice: { map: 'invoices', read: readInvoice },
} as const

/** Where nouns are kept that were withdrawn and may still be named. */
const goneMaps = { buyer: 'goneBuyers', channel: 'goneChannels', order: 'goneOrders', standing: 'goneStandings', line: 'goneLines' } as const

/** Where what is sold is filed beside its id: the index, and under what. */
const filed = {
  line: { linesOf: (l: ReturnType<typeof readLine>) => l.order || l.standing },
  order: { ordersDue: (o: ReturnType<typeof readOrder>) => o.due },
  shrink: { shrinkOn: (s: Shrink) => s.date, shrinkOf: (s: Shrink) => lotCell(s.lot) },
  claim: { claimsOf: (c: ReturnType<typeof readClaim>) => c.line },
  packed: { packedDue: (p: ReturnType<typeof readPacked>) => p.due, packedOf: (p: ReturnType<typeof readPacked>) => p.line },
} as const

export class LiveSales {
  private readonly maps = emptyMaps()
  private readonly overPacked = packedWrong(isOverPacked)
  private readonly otherStems = packedWrong(hasOtherStems)
  private readonly billing = new LiveBilling()
  private terms = noTerms
  private now: Sales | undefined

  /** The lots are told what is taken out of them. */
  constructor(private readonly lots = new LiveLots()) {}

  /** The same object until something of it changes. */
  get sales(): Sales {
    this.now ??= {
      terms: this.terms, ...this.maps, overPacked: this.overPacked.found, otherStems: this.otherStems.found, billing: this.billing.of(this.maps), overBilled: this.billing.found,
    }
    return this.now
  }

  /** Takes an entity that is something sold, or the farm for its terms; what is withdrawn counts as gone. */
  take(key: EntityKey, entity: Entity | undefined): void {
    const here = entity !== undefined && !withdrawn(entity) ? entity : undefined
    if (key.type === 'farm') this.takeTerms(here)
    if (!Object.hasOwn(kinds, key.type)) return
    const type = key.type as keyof typeof kinds
    const { map, read } = kinds[type]
    const all = this.maps[map] as Map<string, unknown>
    const now = here && read(here)
    const before = all.get(key.id)
    this.file(type, key.id, before, now)
    this.tellLots(type, before, now)
    this.overPacked.touch(type, before, now)
    this.otherStems.touch(type, before, now)
    this.billing.touch(type, before, now)
    if (now) all.set(key.id, now)
    else all.delete(key.id)
    this.keepGone(type, key.id, here ? undefined : entity)
    this.changed()
  }

  /** Looks at what changed since for lines of which more was packed than ordered, or other stems, or more billed than packed. */
  settle(): void {
    if (this.overPacked.settle(this.sales)) this.changed()
    if (this.otherStems.settle(this.sales)) this.changed()
    if (this.billing.settle(this.sales)) this.changed()
  }

  clear(): void {
    this.overPacked.clear()
    this.otherStems.clear()
    this.billing.clear()
    for (const map of Object.values(this.maps)) map.clear()
    this.terms = noTerms
    this.changed()
  }

  private tellLots(type: string, before: unknown, now: unknown): void {
    if (type === 'packed') this.lots.takePacked(before as Packed | undefined, now as Packed | undefined)
    if (type === 'shrink') this.lots.takeShrink(before as Shrink | undefined, now as Shrink | undefined)
  }

  private takeTerms(entity: Entity | undefined): void {
    this.terms = entity ? readTerms(entity) : noTerms
    this.changed()
  }

  private keepGone(type: keyof typeof kinds, id: string, gone: Entity | undefined): void {
    if (!Object.hasOwn(goneMaps, type)) return
    const map = this.maps[goneMaps[type as keyof typeof goneMaps]] as Map<string, unknown>
    if (gone) map.set(id, kinds[type].read(gone))
    else map.delete(id)
  }

  private file(type: keyof typeof kinds, id: string, before: unknown, now: unknown): void {
    if (!Object.hasOwn(filed, type)) return
    for (const [index, under] of Object.entries(filed[type as keyof typeof filed]) as [keyof Indexes, (noun: unknown) => string][]) {
      const map = this.maps[index] as Map<string, Set<string>>
      if (before !== undefined) map.get(under(before))?.delete(id)
      if (now !== undefined) fileUnder(map, under(now), id)
    }
  }

  private changed(): void {
    this.now = undefined
  }
}

type Indexes = Pick<Sales, 'linesOf' | 'ordersDue' | 'packedDue' | 'packedOf' | 'shrinkOn' | 'shrinkOf' | 'claimsOf'>

function fileUnder(map: Map<string, Set<string>>, under: string, id: string): void {
  const there = map.get(under)
  if (there) there.add(id)
  else map.set(under, new Set([id]))
}

type Mutable<T> = T extends ReadonlyMap<infer K, ReadonlySet<infer V>> ? Map<K, Set<V>> : T extends ReadonlyMap<infer K, infer V> ? Map<K, V> : never

/** Lines with which something of what was packed is wrong. */
function packedWrong(isWrong: (sales: Sales, line: LineID) => boolean): LinesFound {
  return new LinesFound(isWrong, (sales) => sales.packedOf.keys(), ['line', 'order', 'standing'])
}

/** A farm's sales before the first buyer. */
export function noSales(): Sales {
  return new LiveSales().sales
}

function emptyMaps() {
  const map = <K extends keyof Omit<Sales, 'overPacked' | 'otherStems' | 'billing' | 'overBilled'>>() => new Map() as Mutable<Sales[K]>
  return {
    channels: map<'channels'>(), buyers: map<'buyers'>(), bunches: map<'bunches'>(), prices: map<'prices'>(), orders: map<'orders'>(),
    standings: map<'standings'>(), lines: map<'lines'>(), linesOf: map<'linesOf'>(), packed: map<'packed'>(), packedDue: map<'packedDue'>(),
    packedOf: map<'packedOf'>(), ordersDue: map<'ordersDue'>(), shrink: map<'shrink'>(), claims: map<'claims'>(), invoices: map<'invoices'>(),
    shrinkOn: map<'shrinkOn'>(), shrinkOf: map<'shrinkOf'>(), claimsOf: map<'claimsOf'>(),
    goneBuyers: map<'goneBuyers'>(), goneChannels: map<'goneChannels'>(),
    goneOrders: map<'goneOrders'>(), goneStandings: map<'goneStandings'>(), goneLines: map<'goneLines'>(),
  }
}
