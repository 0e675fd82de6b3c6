// A plant that was entered by mistake and withdrawn: what it was, and the way back.

import { bringBack } from '../crop/mistakes'
import type { Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { DeedNote } from './DeedNote'
import { useDeed } from './use_deed'

export function WithdrawnPlant({ plant }: { readonly plant: Plant }) {
  const may = useRights()
  const doing = useDeed()
  const back = () => doing.act((now) => ({ deed: { facts: bringBack(now, plant.id), undo: [] }, said: t('lineage.mistake.back', { code: plant.code }) }))
  return (
    <div class="plant-page">
      <PageHead title={plant.code} back={href('beds')} />
      <div class="page reading">
        <DeedNote {...doing} />
        <div class="note undoable">
          <p>{t('lineage.mistake.done', { code: plant.code })}</p>
          {may.manage && <button type="button" class="btn" onClick={() => void back()}>{t('undo')}</button>}
        </div>
      </div>
    </div>
  )
}
