// A measured colour as large as a thumb, with what it is called, since no screen shows every colour.

import type { Lab } from '../colour/lab'
import { hexOf } from '../colour/shown'
import { t } from '../messages/messages'
import { colourText } from './words'

export function Swatch({ lab }: { readonly lab: Lab }) {
  return <span class="measured-swatch" role="img" aria-label={t('measuring.swatch', { colour: colourText(lab) })} style={{ background: hexOf(lab) }} />
}
