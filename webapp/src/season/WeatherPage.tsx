// The weather of each day: typed, read from a file, and the warmth that it sums to.

import { useState } from 'preact/hooks'
import type { Day } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { WarmthSettings } from './WarmthSettings'
import { WarmthSum } from './WarmthSum'
import { WeatherDays } from './WeatherDays'
import { WeatherFile } from './WeatherFile'
import { WeatherTyping } from './WeatherTyping'
import { untold } from './weather_days'

export function WeatherPage() {
  const notebook = useNotebook()
  const doing = useUndoable()
  const may = useRights()
  const farm = notebook.farm.value
  const [day, setDay] = useState<Day>(untold(farm.ahead, today.value)[0] ?? today.value)
  return (
    <>
      <PageHead title={t('weather.title')} back={href('ahead', 'tasks')}><SyncChip /></PageHead>
      <div class="page weather">
        <div class="stays"><UndoNote {...doing} /></div>
        <div class="columns">
          <div>
            {may.record && <WeatherTyping key={day} day={day} onDay={setDay} doing={doing} />}
            <WarmthSum farm={farm} today={today.value} />
          </div>
          <div>
            <WeatherDays farm={farm} today={today.value} {...(may.record && { onDay: setDay })} />
            <WeatherFile doing={doing} />
            <WarmthSettings key={JSON.stringify(farm.ahead.warmth)} doing={doing} />
          </div>
        </div>
      </div>
    </>
  )
}
