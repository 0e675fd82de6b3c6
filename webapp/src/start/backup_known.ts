// What the shed last told of the farm's backups, kept on owners' devices so that an old one is told of with no signal too.

import { signal } from '@preact/signals'
import { type Notebook, ownersAlone } from '../sync/notebook'
import { askBackups } from '../shed/backups'

export interface BackupKnown {
  /** When the last good one was made, ms since 1970; 0 where there never was one. */
  readonly made: number
}

const kept = `${ownersAlone}start.backup`

/** Grows when something else was told, so that a page that read it reads it again. */
const told = signal(0)

export function backupKnown(notebook: Notebook): BackupKnown | undefined {
  void told.value
  return notebook.kept<BackupKnown>(kept)
}

/** Asks the shed, which tells owners alone; what was known stays where it does not answer. */
export async function refreshBackup(notebook: Notebook): Promise<void> {
  const backups = await askBackups()
  if (typeof backups !== 'object') return
  const made = backups.good?.made ?? 0
  if (notebook.kept<BackupKnown>(kept)?.made === made) return
  await notebook.keep(kept, { made } satisfies BackupKnown)
  told.value++
}
