// What was lost of the cut: written off in the cooler or claimed by buyers, by bed, by season in the ground and by how open
// the heads were, each share with what it stands on.

import { agesOf, benchOf, stagesOf } from './lot_trace'
import { lotCell } from './lots'
import type { Day, Farm } from './nouns'
import { type ClaimReason, claimReasons, type LotID, type ShrinkReason, shrinkReasons } from './sale_nouns'

export interface Loss {
  readonly lots: number
  /** Over the bench. */
  readonly cut: number
  readonly shrink: number
  readonly packed: number
  readonly claimed: number
}

export interface LossRow<Of extends string> extends Loss {
  readonly of: Of
}

/** '' is not told, or not known; 'several' where more than one may be behind a lot. */
export type StageOf = 'opening' | 'full' | 'fading' | 'several' | ''

export interface Losses {
  readonly whole: Loss
  readonly byBed: readonly LossRow<string>[]
  /** By season in the ground as a number; '1+3' where a bed held several. */
  readonly byAge: readonly LossRow<string>[]
  readonly byStage: readonly LossRow<StageOf>[]
  readonly shrunk: readonly { readonly reason: ShrinkReason; readonly stems: number }[]
  readonly claims: readonly { readonly reason: ClaimReason; readonly stems: number; readonly claims: number }[]
  /** Stems claimed of which nobody told the lot: they are in no row. */
  readonly claimedOfNoLot: number
}

/** Fewer lots or stems than these say little of a row (a choice of this program: a single bad bucket is then most of it). */
export const fewLots = 10
export const fewStems = 500

export function saysLittle({ lots, cut }: Loss): boolean {
  return lots < fewLots || cut < fewStems
}

/** Of lots cut from one day to another, both included. Stems packed or written off of what never came are left out of shares. */
export function losses(farm: Farm, from: Day, to: Day): Losses {
  const within = (day: Day) => from <= day && day <= to
  const claimed = claimedByLot(farm)
  const [beds, ages, stages] = [new Rows<string>(), new Rows<string>(), new Rows<StageOf>()]
  const whole = new Rows<string>()
  for (const [cell, { id, came, packed, shrink }] of farm.lots.of) {
    if (!within(id.cut) || came <= 0) continue
    const loss = { lots: 1, cut: came, packed, shrink, claimed: claimed.get(cell) ?? 0 }
    whole.add('', loss)
    beds.add(id.bed, loss)
    ages.add(ageKey(farm, id), loss)
    stages.add(stageKey(farm, id), loss)
  }
  return {
    whole: whole.rows()[0] ?? nothing, byBed: beds.rows(), byAge: ages.rows(), byStage: stages.rows(), ...reasonsOf(farm, within),
  }
}

function ageKey(farm: Farm, lot: LotID): string {
  return agesOf(farm, lot, benchOf(farm, lot)).reverse().join('+')
}

function stageKey(farm: Farm, lot: LotID): StageOf {
  const { stages, stageUntold } = stagesOf(benchOf(farm, lot))
  if (stages.length === 0) return ''
  return stages.length === 1 && !stageUntold ? stages[0]! : 'several'
}

function claimedByLot({ sales }: Farm): ReadonlyMap<string, number> {
  const found = new Map<string, number>()
  for (const { lot, stems } of sales.claims.values()) if (lot) found.set(lotCell(lot), (found.get(lotCell(lot)) ?? 0) + stems)
  return found
}

function reasonsOf({ sales }: Farm, within: (day: Day) => boolean): Pick<Losses, 'shrunk' | 'claims' | 'claimedOfNoLot'> {
  const shrunk = new Map<ShrinkReason, number>()
  for (const { lot, reason, stems } of sales.shrink.values()) if (within(lot.cut)) shrunk.set(reason, (shrunk.get(reason) ?? 0) + stems)
  const claims = new Map<ClaimReason, { stems: number; claims: number }>()
  let claimedOfNoLot = 0
  for (const { lot, due, reason, stems } of sales.claims.values()) {
    if (!within(lot?.cut ?? due)) continue
    const before = claims.get(reason) ?? { stems: 0, claims: 0 }
    claims.set(reason, { stems: before.stems + stems, claims: before.claims + 1 })
    if (!lot) claimedOfNoLot += stems
  }
  const most = (a: { stems: number }, b: { stems: number }) => b.stems - a.stems
  return {
    shrunk: shrinkReasons.flatMap((reason) => (shrunk.has(reason) ? [{ reason, stems: shrunk.get(reason)! }] : [])).sort(most),
    claims: claimReasons.flatMap((reason) => (claims.has(reason) ? [{ reason, ...claims.get(reason)! }] : [])).sort(most),
    claimedOfNoLot,
  }
}

const nothing: Loss = { lots: 0, cut: 0, shrink: 0, packed: 0, claimed: 0 }

class Rows<Of extends string> {
  private readonly of = new Map<Of, Loss>()

  add(of: Of, more: Loss): void {
    const before = this.of.get(of) ?? nothing
    this.of.set(of, {
      lots: before.lots + more.lots, cut: before.cut + more.cut, shrink: before.shrink + more.shrink,
      packed: before.packed + more.packed, claimed: before.claimed + more.claimed,
    })
  }

  rows(): LossRow<Of>[] {
    return [...this.of].map(([of, loss]) => ({ of, ...loss })).sort((a, b) => b.cut - a.cut)
  }
}
