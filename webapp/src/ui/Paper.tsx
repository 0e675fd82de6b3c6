// A paper as it is printed, and before that as it is looked at: black on white in any theme.

import type { ComponentChildren } from 'preact'
import { t } from '../messages/messages'
import { Icon } from './Icon'
import './paper.css'

interface PaperProps {
  readonly children: ComponentChildren
  /** It is printed and not looked at before: the screen shows the same in a way of its own. */
  readonly unseen?: boolean
}

/** What is printed of the page, which is of the class `papers-page`; all else of it is not. */
export function Paper({ children, unseen = false }: PaperProps) {
  return (
    <section class={unseen ? 'paper-print print-alone' : 'paper-print'} aria-label={t('papers.preview')}>
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
