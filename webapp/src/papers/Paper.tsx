// A paper as it is printed, and before that as it is looked at: black on white in any theme.

import type { ComponentChildren } from 'preact'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'

/** What is printed of the page; all else of it is not. */
export function Paper({ children }: { readonly children: ComponentChildren }) {
  return (
    <section class="paper-print" aria-label={t('papers.preview')}>
      {children}
    </section>
  )
}

export function PrintButton() {
  return (
    <div class="papers-do">
      <button type="button" class="btn main" onClick={() => print()}><Icon name="print" />{t('papers.print')}</button>
      <p class="small">{t('papers.print.note')}</p>
    </div>
  )
}
