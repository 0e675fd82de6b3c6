// Where a colour session stands, in words.

import { t } from '../messages/messages'
import type { SessionState } from './colour_session'

/** What it goes on with: "plant 3 of 20". */
export function stepText({ step, at, plants }: SessionState): string {
  return step === 'plants' ? t('session.step.plants', { n: plants.findIndex((id) => id === at) + 1, total: plants.length }) : t(`session.step.${step}`)
}

/** What stands at the plant called out: "Reference plant 1 of 3", "Plant 3 of 20". */
export function whereText({ step, at, references, plants }: SessionState): string {
  const isReference = step === 'references'
  const order = isReference ? references : plants
  return t(isReference ? 'session.reference' : 'session.plant', { n: order.findIndex((id) => id === at) + 1, total: order.length })
}
