// The first rows of a spreadsheet as its columns are matched.

import { t } from '../messages/messages'
import { columnName } from './cells'
import { columnsOf, type Match, type SheetKind } from './columns'
import type { Sheet } from './sheet'

const shown = 5

interface SheetPreviewProps {
  readonly kind: SheetKind
  readonly sheet: Sheet
  readonly match: Match
}

export function SheetPreview({ kind, sheet: { rows }, match }: SheetPreviewProps) {
  const columns = columnsOf[kind].flatMap(({ key }) => (match[key] === undefined ? [] : [{ key, at: match[key] }]))
  if (columns.length === 0 || rows.length === 0) return null
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={t('sheets.preview')}>
      <table class="preview">
        <caption>{t('sheets.preview')}</caption>
        <thead>
          <tr><th scope="col">{t('sheets.line')}</th>{columns.map(({ key }) => <th key={key} scope="col">{columnName(key)}</th>)}</tr>
        </thead>
        <tbody>
          {rows.slice(0, shown).map(({ line, cells }) => (
            <tr key={line}><td>{line}</td>{columns.map(({ key, at }) => <td key={key}>{cells[at] ?? ''}</td>)}</tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
