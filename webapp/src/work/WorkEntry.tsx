// The way to the timer from Row and from Shed: what runs there now, where anything does.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { clockOf, minutesSince, timed } from './timer'
import { useNow } from './use_now'
import { kindWord, WorkTimer } from './work_timer'

export function WorkEntry({ from }: { readonly from: 'row' | 'shed' }) {
  const running = WorkTimer.of(useNotebook()).running.value
  const now = useNow(running !== undefined)
  const text = !running ? t('work.title')
    : timed(running, now) === 'ask' ? t('work.entry.forgotten', { kind: kindWord(running.kind) })
      : t('work.entry.running', { kind: kindWord(running.kind), time: clockOf(minutesSince(running, now)) })
  return <a class="btn tall" href={href(from, 'work')}><Icon name="clock" />{text}</a>
}
