// The way to what is to be divided and lifted, while anything is.

import { useMemo } from 'preact/hooks'
import { toDoIn } from '../crop/intents'
import { seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'

export function DivideEntry() {
  const farm = useNotebook().farm.value
  const left = useMemo(() => toDoIn(farm, seasonOf(farm.calendar, today.value)).length, [farm.ahead, farm.groundVersion, today.value])
  if (left === 0) return null
  return <a class="btn tall" href={href('row', 'divide')}><Icon name="list" />{t('division.walk.entry', { n: left })}</a>
}
