// Asks the shed for sheets of colour cards of a new batch.

import type { CardID } from '../crop/nouns'
import type { Paper } from '../ui/paper'

export interface CardSheets {
  readonly batch: CardID
  readonly paper: Paper
  /** Of the page of how to. */
  readonly language: string
  readonly sheets: number
}

/** Milliseconds after which the shed is taken not to answer. */
const longestWait = 60_000

/** The sheets, a PDF, or a code for why there are none. */
export async function printCards(asked: CardSheets, origin = ''): Promise<Blob | string> {
  try {
    const answer = await fetch(`${origin}/api/card`, {
      method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(asked), signal: AbortSignal.timeout(longestWait),
    })
    if (answer.ok) return await answer.blob()
    const said = (await answer.json()) as { error?: { code?: unknown } }
    return typeof said.error?.code === 'string' ? said.error.code : 'other'
  } catch (reason) {
    console.error('asking the shed for colour cards', reason)
    return 'unreachable'
  }
}
