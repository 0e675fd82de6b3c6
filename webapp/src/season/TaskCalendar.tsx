// Sends the tasks to a calendar, as a file that phones share and open.

import { useState } from 'preact/hooks'
import type { TaskNow } from '../crop/tasks'
import { t } from '../messages/messages'
import { download, fileWord } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { calendarFile, numbered, type Written, writtenOf } from './calendar_file'
import { entriesOf, isRemembered } from './task_calendar'

/** Under which name a device keeps what it wrote last. */
const keptWritten = 'tasks.calendar'

export function TaskCalendar({ tasks }: { readonly tasks: readonly TaskNow[] }) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const farm = notebook.farm.value
  const entries = entriesOf(farm, tasks, today.value)
  const send = async () => {
    const written = numbered(entries, notebook.kept<Written>(keptWritten) ?? {}, today.value)
    const file = calendarFile(written, t('tasks.calendar.name', { farm: farm.name }), Date.now())
    try {
      await notebook.keep(keptWritten, writtenOf(written.filter((entry) => isRemembered(entry, today.value))))
      await handOver(new File([file], `${fileWord(farm.name, 'tasks')}-tasks.ics`, { type: 'text/calendar' }))
      setProblem('')
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  if (entries.length === 0) return null
  return (
    <section class="to-calendar">
      <button type="button" class="btn" onClick={() => void send()}><Icon name="share" />{t('tasks.calendar')}</button>
      <p class="small">{t('tasks.calendar.text')}</p>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </section>
  )
}

/** Shared where the device can share files, and else saved; who breaks off the sharing has changed their mind. */
async function handOver(file: File): Promise<void> {
  const what = { files: [file] }
  if (!navigator.canShare?.(what)) return download(file, file.name)
  try {
    await navigator.share(what)
  } catch (reason) {
    if (!(reason instanceof DOMException && reason.name === 'AbortError')) download(file, file.name)
  }
}
