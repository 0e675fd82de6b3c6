// The farm's data in and out: spreadsheets that are read in, tables for spreadsheets, and everything in one file.

import { t } from '../messages/messages'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { ExportCard } from './ExportCard'
import { SheetCard } from './SheetCard'
import { TablesCard } from './TablesCard'
import './sheets.css'

export function FilesPage() {
  const doing = useUndoable()
  const may = useRights()
  const reached = inReach(useNotebook().sync.value)
  if (!may.manage) {
    return (
      <>
        <PageHead title={t('files.title')} back={href('shed')} />
        <div class="page"><p class="note">{t('files.owner')}</p></div>
      </>
    )
  }
  return (
    <>
      <PageHead title={t('files.title')} back={href('shed')}><SyncChip /></PageHead>
      <div class="page files">
        <div class="stays"><UndoNote {...doing} /></div>
        <div class="columns">
          <div><SheetCard doing={doing} /></div>
          <div>
            {!reached && <p class="note">{t('files.out_of_reach')}</p>}
            {/* Hidden, not taken away: a list that was opened is still open when the line comes back. */}
            <div hidden={!reached}><TablesCard /></div>
            <div hidden={!reached}><ExportCard /></div>
          </div>
        </div>
      </div>
    </>
  )
}
