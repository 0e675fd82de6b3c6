// How a device is put into words for an owner.

import type { JoinedDevice } from '../join/roster'
import { momentName, t } from '../messages/messages'

export function seenText({ withdrawn, connected, seen }: JoinedDevice): string {
  if (withdrawn > 0) return t('devices.withdrawn', { when: momentName(withdrawn) })
  if (connected) return t('devices.connected')
  return seen > 0 ? t('devices.seen', { when: momentName(seen) }) : t('devices.unseen')
}

/** Of a device that the shed no longer knows by itself; '' of any other, also of one that was withdrawn. */
export function forgottenText({ withdrawn, forgotten }: JoinedDevice): string {
  return withdrawn === 0 && forgotten ? t('devices.forgotten') : ''
}

export function unsentText({ unsent, connected }: JoinedDevice): string {
  if (unsent === undefined) return t('devices.unsent.untold')
  if (unsent === 0) return t(connected ? 'devices.unsent.none' : 'devices.unsent.none.then')
  return t(connected ? 'devices.unsent' : 'devices.unsent.then', { n: unsent })
}

export function heldText({ unsent }: JoinedDevice): string {
  if (unsent === undefined) return t('withdraw.untold')
  return unsent === 0 ? '' : t('withdraw.unsent', { n: unsent })
}
