// That a tag in the photo is another plant's than the one that is open: which it is is asked, and never guessed.

import { useEffect, useState } from 'preact/hooks'
import type { Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { plantsOf } from '../scan/match'
import { useNotebook } from '../ui/notebook'
import type { Measurer } from './measurer'

interface OtherTagProps {
  readonly measurer: Measurer
  readonly plant: Plant
  readonly onPlant: (plant: Plant) => void
}

export function OtherTag({ measurer, plant, onPlant }: OtherTagProps) {
  const farm = useNotebook().farm.value
  const [tags, setTags] = useState<readonly string[]>([])
  useEffect(() => {
    measurer.tags().then(setTags, (reason: unknown) => console.error('reading the tags in a photo', reason))
  }, [measurer])
  const others = tags.flatMap((text) => plantsOf(farm, text))
  if (others.length === 0 || others.some(({ id }) => id === plant.id)) return null
  return (
    <div class="note warn undoable" role="alert">
      <p>{t('measuring.other_tag', { code: others[0]!.code, this: plant.code })}</p>
      {others.map((other) => <button key={other.id} type="button" class="btn" onClick={() => onPlant(other)}>{t('measuring.other_tag.is', { code: other.code })}</button>)}
    </div>
  )
}
