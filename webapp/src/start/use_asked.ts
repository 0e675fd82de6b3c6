// What today asks, from the notebook as it stands: all of it is on the device, and so it is told with no signal.

import type { BedID } from '../crop/nouns'
import { usePhotos } from '../photos/context'
import { CutChoices } from '../row/cut_choices'
import { leftOf, sells, todaysCuts } from '../row/cut_today'
import { Session } from '../row/session'
import type { Notebook } from '../sync/notebook'
import { useNotebook } from '../ui/notebook'
import { tasksNow } from '../ui/tasks_now'
import { today } from '../ui/today'
import { type Asked, askedToday, type BedCut } from './asked_today'
import { backupKnown } from './backup_known'
import { looksNow } from './looks_now'
import { openWalk } from './open_walk'

export function useAskedToday(): readonly Asked[] {
  const notebook = useNotebook()
  const photos = usePhotos().waiting.value.count
  const farm = notebook.farm.value
  // A device that has not joined counts like crew: what it records it keeps until it has.
  return askedToday(notebook.member.value?.role ?? 'crew', {
    today: today.value, now: Date.now(), photos,
    cuts: cutsByBed(notebook), tasks: tasksNow(notebook), sales: farm.sales, ahead: farm.ahead, looks: looksNow(notebook),
    open: openWalk(farm, Session.of(notebook).position.value),
    sync: notebook.sync.value, barred: notebook.barred.value !== undefined, backup: farm.madeUp ? undefined : backupKnown(notebook),
  })
}

function cutsByBed(notebook: Notebook): BedCut[] {
  if (!sells(notebook.farm.value.sales)) return []
  const choices = CutChoices.of(notebook)
  const stems = new Map<BedID, number>()
  for (const row of todaysCuts(notebook).rows) stems.set(row.bed, (stems.get(row.bed) ?? 0) + leftOf(choices, today.value, row))
  return [...stems].map(([bed, n]) => ({ bed, stems: n }))
}
