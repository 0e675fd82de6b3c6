// Keeps people out of a bed as long as the re-entry interval of a spray runs there; goes away by itself.

import { keptOut } from '../crop/reentry'
import type { BedID } from '../crop/nouns'
import { momentName, listed, t } from '../messages/messages'
import { nowOf, useMoment } from './clock'
import { Icon } from './Icon'
import { useNotebook } from './notebook'

export function ReentryWarning({ bed }: { readonly bed: BedID }) {
  const notebook = useNotebook()
  const out = keptOut(notebook.farm.value, bed, nowOf(notebook))
  useMoment(notebook, out?.until)
  if (!out) return null
  return (
    <p class="note warn reentry" role="status">
      <Icon name="warn" />
      <span>
        <b class="block">{t('reentry', { until: momentName(out.until) })}</b>{' '}
        {out.what.length > 0 ? t('reentry.what', { what: listed(out.what) }) : t('reentry.sprayed')}
      </span>
    </p>
  )
}
