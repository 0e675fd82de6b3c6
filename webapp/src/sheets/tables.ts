// Which tables of the farm the shed can write, asked of it.

import type { Language } from '../messages/messages'
import { having, listOf, numeric, text } from '../ui/json_form'

export interface TableInfo {
  /** Under which it is asked for. */
  readonly table: string
  /** In the language that was asked for. */
  readonly name: string
  readonly rows: number
}

const isAnswer = having({ tables: listOf(having({ table: text, name: text, rows: numeric })) }) as (value: unknown) => value is { readonly tables: readonly TableInfo[] }
const patience = 60_000

export async function askTables(language: Language): Promise<readonly TableInfo[] | 'failed'> {
  try {
    const answer = await fetch(`/api/tables?lang=${language}`, { signal: AbortSignal.timeout(patience) })
    const told: unknown = answer.ok ? await answer.json() : undefined
    return isAnswer(told) ? told.tables : 'failed'
  } catch (reason) {
    console.error('asking the shed for its tables', reason)
    return 'failed'
  }
}
