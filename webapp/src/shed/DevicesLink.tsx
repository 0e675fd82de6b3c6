// The way to the phones and people of the farm.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { href } from '../ui/route'

export function DevicesLink() {
  return <a class="btn tall" href={href('shed', 'devices')}><Icon name="phones" />{t('devices.title')}</a>
}
