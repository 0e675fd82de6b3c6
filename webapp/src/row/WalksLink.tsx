// The way from choosing a bed to all of its walks.

import type { Bed } from '../crop/nouns'
import { t } from '../messages/messages'
import { href } from '../ui/route'
import './walks-link.css'

export function WalksLink({ bed }: { readonly bed: Bed }) {
  return <a class="btn walks-link" href={href('row', 'walks', bed.id)} aria-label={t('walks.link', { bed: bed.name })}>{t('walks.short')}</a>
}
