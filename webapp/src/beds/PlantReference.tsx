// Whether a plant is photographed in every session, which an owner says.

import { useState } from 'preact/hooks'
import { referenceFacts } from '../crop/facts'
import type { Farm, Plant } from '../crop/nouns'
import { most, referencesBeside } from '../measuring/references'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { failureText } from '../ui/words'

interface PlantReferenceProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly mayChange: boolean
}

export function PlantReference({ farm, plant, mayChange }: PlantReferenceProps) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const n = referencesBeside(farm, [plant], today.value).length
  if (!mayChange) return plant.reference ? <p class="small">{t('plant.reference.said')}</p> : null
  const toggle = async (box: HTMLInputElement) => {
    const on = !plant.reference
    try {
      await notebook.record(referenceFacts(plant.id, on))
      setProblem('')
      announce(t(on ? 'plant.reference.on' : 'plant.reference.off', { code: plant.code }))
    } catch (reason) {
      box.checked = plant.reference // the browser has ticked it by then
      setProblem(failureText(reason))
    }
  }
  return (
    <div>
      <label class="switch">
        <input type="checkbox" checked={plant.reference} onChange={(event) => void toggle(event.currentTarget)} />
        <span>{t('plant.reference')}</span>
      </label>
      <p class="small">{n > most ? t('plant.reference.many', { n: most }) : t('plant.reference.why', { n })}</p>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}
