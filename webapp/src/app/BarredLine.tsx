// A line over every place while the shed does not let this device in; Shed says it in full.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'

export function BarredLine() {
  const barred = useNotebook().barred.value
  if (barred === undefined) return null
  return (
    <p class="note stop" role="status">
      <Icon name="warn" /> <a href={href('join')}>{t(`barred.line.${barred}`)} {t('join.again')}</a>
    </p>
  )
}
