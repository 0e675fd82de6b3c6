// Tag codes for new plants: the shed leases them to this device in blocks, so that they can be given out
// with no signal and no other device ever gives out the same.

import { mayManage } from '../crop/member'
import type { Farm } from '../crop/nouns'
import { blockSize, normalCode, tagCode } from '../crop/tag_code'
import type { Notebook } from '../sync/notebook'
import { inReach } from '../sync/reach'

/** Codes that a device has at hand at the least while the shed is in reach: a bed of divisions, several trays. */
const enough = 4 * blockSize
/** Milliseconds after which the shed is taken not to answer. */
const longestWait = 10_000

const kept = 'codes'

/** What a device was leased and has not given out. A copy of a phone writes under another identity and has none of it. */
interface Leased {
  readonly writer: string
  readonly blocks: readonly Block[]
}

interface Block {
  readonly block: number
  /** The first code of it that was not given out. */
  readonly next: number
}

export interface Minted {
  readonly codes: readonly string[]
  /** To be kept in the transaction that records the plants. */
  readonly alongside: Readonly<Record<string, unknown>>
}

/** How many plants can be given a code here and now. */
export function codesLeft(notebook: Notebook): number {
  return leasedTo(notebook).reduce((sum, { next }) => sum + blockSize - next, 0)
}

/** Codes for new plants, past those that plants of the farm have; undefined where too few were leased. */
export function mintCodes(notebook: Notebook, farm: Farm, wanted: number): Minted | undefined {
  const taken = new Set([...farm.plants.values()].map(({ code }) => normalCode(code)))
  const codes: string[] = []
  const blocks: Block[] = []
  for (const { block, next } of leasedTo(notebook)) {
    let at = next
    for (; at < blockSize && codes.length < wanted; at++) {
      const code = tagCode(block, at)
      if (!taken.has(normalCode(code))) codes.push(code)
    }
    if (at < blockSize) blocks.push({ block, next: at })
  }
  return codes.length < wanted ? undefined : { codes, alongside: keptAs(notebook, blocks) }
}

/** The last asking: another waits for it, since it may bring enough. */
let asking: Promise<void> = Promise.resolve()

/** Has the shed lease more while it is in reach, for whoever may plant. Resolves when it did, or could not. */
export function keepCodes(notebook: Notebook, wanted = enough): Promise<void> {
  asking = asking.then(() => leaseUpTo(notebook, wanted))
  return asking
}

async function leaseUpTo(notebook: Notebook, wanted: number): Promise<void> {
  if (!inReach(notebook.sync.peek()) || !mayManage(notebook.member.peek())) return
  try {
    while (codesLeft(notebook) < wanted) {
      const writer = notebook.writer()
      const block = await leaseBlock()
      if (writer !== notebook.writer()) continue // what was leased to whom this device no longer is, is nobody's
      await notebook.recordInTurn(() => ({ facts: [], alongside: keptAs(notebook, [...leasedTo(notebook), { block, next: 0 }]) }))
    }
  } catch (reason) {
    console.error('asking the shed for tag codes', reason) // it is asked again on the next line; planting says how many are left
  }
}

async function leaseBlock(): Promise<number> {
  const answer = await fetch('/api/codes', { method: 'POST', signal: AbortSignal.timeout(longestWait) })
  if (!answer.ok) throw new Error(`the shed answered ${answer.status}`)
  const said: unknown = await answer.json()
  if (typeof said !== 'object' || said === null || !('block' in said) || typeof said.block !== 'number') {
    throw new Error('the shed answered in an unknown form')
  }
  return said.block
}

function leasedTo(notebook: Notebook): readonly Block[] {
  const leased = notebook.kept<Leased>(kept)
  return leased?.writer === notebook.writer() ? leased.blocks : []
}

function keptAs(notebook: Notebook, blocks: readonly Block[]): Readonly<Record<string, unknown>> {
  return { [kept]: { writer: notebook.writer(), blocks } satisfies Leased }
}
