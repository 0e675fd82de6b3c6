// A photo of the plant called out. Why one was not taken in is told in the line above every place.

import type { PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useTakePhotos } from '../ui/take_photos'

export function CameraButton({ plant }: { readonly plant: PlantID }) {
  const { storing, add } = useTakePhotos(plant)
  return (
    <label class="btn tall square tool camera">
      <Icon name="camera" />
      <span class="unseen">{t(storing ? 'photos.storing' : 'photos.take')}</span>
      <input type="file" accept="image/*" capture="environment" class="unseen" disabled={storing} onChange={(event) => void add(event.currentTarget)} />
    </label>
  )
}
