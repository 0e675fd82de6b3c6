// The list beside a bed's picture, in blocks of a few plants: a block at a time is drawn anew when the season
// changes, so that 2,000 rows never keep a finger waiting.

import type { Picture, Stood } from './bed_picture'

export interface Block {
  /** Names it, in every season. */
  readonly key: string
  /** Or `unknownPlace`, or `tooFar`. */
  readonly line: number
  readonly stood: readonly Stood[]
}

/** In place of a line, of plants that are not drawn: nobody knows where they stand, or their number lies too far out. */
export const unknownPlace = 0
export const tooFar = -1

/** Places of a line in one block. */
const size = 10

/** Line by line, each by number; a seedling at a foot follows its plant. */
export function blocksOf({ heads, unplaced, far }: Picture): Block[] {
  const blocks = new Map<string, { key: string; line: number; part: number; stood: Stood[] }>()
  const put = (line: number, part: number, one: Stood) => {
    const key = `${line}/${part}`
    const known = blocks.get(key)
    if (known) known.stood.push(one)
    else blocks.set(key, { key, line, part, stood: [one] })
  }
  const byNumber = [...heads].sort((a, b) => a.on.number - b.on.number || Number(a.seedling) - Number(b.seedling))
  for (const head of byNumber) put(head.on.line, Math.floor((head.on.number - 1) / size), head)
  far.forEach((one, i) => put(tooFar, Math.floor(i / size), one))
  unplaced.forEach((one, i) => put(unknownPlace, Math.floor(i / size), one))
  return [...blocks.values()].sort((a, b) => Number(a.line <= 0) - Number(b.line <= 0) || a.line - b.line || a.part - b.part)
}

/** The new blocks as far as they were drawn, and the old ones of all that follows. */
export function renewed(before: readonly Block[], now: readonly Block[], upTo: number): readonly Block[] {
  if (upTo >= now.length) return now
  const next = new Set(now.slice(0, upTo).map(({ key }) => key))
  const old = new Map(before.map((block) => [block.key, block]))
  const rest = now.slice(upTo).flatMap(({ key }) => old.get(key) ?? [])
  return [...now.slice(0, upTo), ...rest.filter(({ key }) => !next.has(key))]
}

/** The blocks of each line, in their order. */
export function linesOf(blocks: readonly Block[]): [number, Block[]][] {
  const lines = new Map<number, Block[]>()
  for (const block of blocks) {
    const known = lines.get(block.line)
    if (known) known.push(block)
    else lines.set(block.line, [block])
  }
  return [...lines]
}
