// How a visit came to stand as it does, told line by line.

import type { Visit } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from './notebook'
import { historyLines } from './visit_history'
import './visit.css'

export function VisitHistory({ visit }: { readonly visit: Visit }) {
  const notebook = useNotebook()
  const lines = historyLines(notebook.farm.value, notebook.history('visit', visit.id))
  return (
    <div class="visit-history">
      <ol>{lines.map(({ text, who }, i) => <li key={i}>{text}<span class="small block">{who}</span></li>)}</ol>
      <p class="small">{t('history.note')}</p>
    </div>
  )
}
