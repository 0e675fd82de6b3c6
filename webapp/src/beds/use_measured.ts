// Whether a bed's picture is shown in measured colours, and what they are: the readings on this device, and what the
// shed said last.

import { useEffect, useMemo } from 'preact/hooks'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { type Measured, measuredOf } from './bed_picture_measured'
import type { BedPast } from './bed_picture_past'
import { colourSettings, readColourSettings } from './colour_settings'
import { answer, fetching, refreshColours } from './colours'

export interface MeasuredShown {
  /** Whether anything in the bed was measured, so that there is a choice. */
  readonly isThere: boolean
  /** undefined where the picture is in the colours of classes. */
  readonly shown: Measured | undefined
  /** Of when it is known who drifted. */
  readonly whence: string
}

export function useMeasured(past: BedPast): MeasuredShown {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  useEffect(() => readColourSettings(notebook), [])
  useEffect(() => { void refreshColours(notebook) }, [live])
  const told = answer.value
  const measured = useMemo(() => measuredOf(past.farm, past.plants, told), [past, told])
  const isThere = measured.colours.size > 0
  const whence = told ? t('picture.measured.drift', { day: dayName(told.asof, today.value) }) : t(fetching.value === 'yes' ? 'colours.fetching' : 'picture.measured.drift.unknown')
  return { isThere, shown: isThere && colourSettings.value.measured ? measured : undefined, whence }
}
