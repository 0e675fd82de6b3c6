// What the judgement rests on: the sessions with their cameras and reference plants, and what a reader must know.

import type { Farm } from '../crop/nouns'
import { count, dayAndMonth, t } from '../messages/messages'
import { colourNoteText } from './colour_notes'
import type { ColourReport } from './colour_report'
import { inHundred } from './ages_sentence'
import { TableBox } from './TableBox'
import { Cell, Head } from './TableCells'

export function ColourNotes({ farm, report: { sessions, notes, level } }: { readonly farm: Farm; readonly report: ColourReport }) {
  return (
    <>
      <p class="small">{t('colours.notes.level', { hundred: inHundred(level) })}</p>
      {notes.map((note) => <p class="small" key={note.code + note.text}>{colourNoteText(farm, note)}</p>)}
      <TableBox caption={t('colours.notes.sessions')} beside={4}>
        <thead role="rowgroup">
          <tr role="row">
            <Head>{t('colours.notes.day')}</Head><Head>{t('colours.notes.readings')}</Head><Head>{t('colours.notes.plants')}</Head><Head>{t('colours.notes.references')}</Head>
            <Head>{t('colours.notes.tied')}</Head><Head under>{t('colours.notes.camera')}</Head>
          </tr>
        </thead>
        <tbody role="rowgroup">
          {sessions.map((one) => (
            <tr key={`${one.day} ${one.camera} ${one.card}`} role="row">
              <Cell>{dayAndMonth(one.day)} {String(one.season)}</Cell><Cell>{count(one.readings)}</Cell><Cell>{count(one.plants)}</Cell><Cell>{count(one.references)}</Cell>
              <Cell>{t(one.tied ? 'yes' : 'no')}</Cell>
              <Cell under={t('colours.notes.camera')}>{one.camera || t('colours.notes.camera.unknown')}{!one.card && ` · ${t('colours.notes.no_card')}`}</Cell>
            </tr>
          ))}
        </tbody>
      </TableBox>
    </>
  )
}

export function notesHint({ sessions }: ColourReport): string | undefined {
  const untied = sessions.filter(({ tied }) => !tied).length
  return untied > 0 ? t('colours.notes.untied', { n: untied }) : undefined
}
