// How the backups of the farm stand, asked of the shed.

export interface Backups {
  /** Where they go, as chosen at the shed; '' where nothing was chosen. */
  readonly folder: string
  readonly on: boolean
  readonly running: boolean
  /** When the next is made by itself, ms since 1970; 0 for never. */
  readonly next: number
  /** The last one that was read back and found good. */
  readonly good: { readonly made: number; readonly path: string; readonly there: boolean; readonly damaged: number } | undefined
  /** Why a try after it came to nothing; text is the shed's own word, in English. */
  readonly failure: { readonly when: number; readonly code: string; readonly text: string } | undefined
  readonly kept: number
}

/** 'nothing': the shed does not tell this person; 'unreachable': it does not answer, or is in trouble. */
export type Told = Backups | 'nothing' | 'unreachable'

const address = '/api/backups'
const patience = 20_000

/** Asks how backups stand, or says what to do: one now, which is then under way, or every night from now on or not. */
export async function askBackups(what?: 'now' | 'on' | 'off', origin = ''): Promise<Told> {
  const how = what === undefined ? {} : { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ do: what }) }
  try {
    const answer = await fetch(`${origin}${address}`, { ...how, signal: AbortSignal.timeout(patience) })
    if (answer.ok) return backupsOf((await answer.json()) as Fields)
    return answer.status < 500 ? 'nothing' : 'unreachable'
  } catch (reason) {
    console.error('asking the shed for its backups', reason)
    return 'unreachable'
  }
}

type Fields = Readonly<Record<string, unknown>>

function backupsOf(answer: Fields): Backups {
  const { last_good: good, last_failure: failure, files } = answer as { last_good?: Fields | null; last_failure?: Fields | null; files?: unknown }
  return {
    folder: text(answer['folder']), on: answer['on'] === true, running: answer['running'] === true, next: number(answer['next']),
    good: good ? { made: number(good['made']), path: text(good['path']), there: good['there'] === true, damaged: number(good['damaged']) } : undefined,
    failure: failure ? { when: number(failure['when']), code: text(failure['code']), text: text(failure['text']) } : undefined,
    kept: Array.isArray(files) ? files.length : 0,
  }
}

function text(part: unknown): string {
  return typeof part === 'string' ? part : ''
}

function number(part: unknown): number {
  return typeof part === 'number' ? part : 0
}
