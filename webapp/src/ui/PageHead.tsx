// The head of a page: its name, a way back, and what stands beside it.

import type { ComponentChildren } from 'preact'
import { t } from '../messages/messages'
import { Icon } from './Icon'

interface PageHeadProps {
  readonly title: string
  readonly back?: string
  readonly children?: ComponentChildren
}

export function PageHead({ title, back, children }: PageHeadProps) {
  return (
    <header class="page-head">
      {back !== undefined && <a class="back" href={back} aria-label={t('back')}><Icon name="back" /></a>}
      <h1>{title}</h1>
      {children}
    </header>
  )
}
