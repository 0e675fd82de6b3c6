// The ways into planting, for whoever may: from the list of beds, and from one bed.

import { useState } from 'preact/hooks'
import type { BedID } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { bedGone, bringBedBack } from './lately'
import './tray.css'

/** Above the list of beds. On a farm without a bed its first one is offered instead. */
export function FarmPlantingLinks() {
  const farm = useNotebook().farm.value
  const may = useRights()
  return (
    <>
      <BedGone />
      {may.manage && farm.beds.size > 0 && (
        <div class="buttons planting-links">
          <a class="btn" href={href('beds', 'tray')}>{t('tray.title')}</a>
          <a class="btn" href={href('beds', 'new')}>{t('bed_form.new')}</a>
          <a class="btn" href={href('beds', 'stocks')}>{t('stocks.title')}</a>
        </div>
      )}
      {(!may.manage || farm.beds.size === 0) && farm.stocks.size > 0 && <a class="btn" href={href('beds', 'stocks')}>{t('stocks.title')}</a>}
    </>
  )
}

function BedGone() {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const gone = bedGone(notebook, notebook.farm.value, today.value)
  if (!gone) return null
  const bringBack = () => { bringBedBack(notebook, gone).catch((reason: unknown) => setProblem(failureText(reason))) }
  return (
    <>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="note undoable">
        <p>{t('bed_form.gone', { name: gone.name })}</p>
        <button type="button" class="btn" onClick={bringBack}>{t('undo')}</button>
      </div>
    </>
  )
}

export function BedPlantingLinks({ bed }: { readonly bed: BedID }) {
  if (!useRights().manage) return null
  return (
    <div class="buttons planting-links">
      <a class="btn" href={href('beds', 'tray', bed)}>{t('tray.here')}</a>
      <a class="btn" href={href('beds', 'change', bed)}>{t('bed_form.change')}</a>
    </div>
  )
}
