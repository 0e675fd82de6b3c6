// Takes a photo with the camera, or pictures that are on the device already.

import type { PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { photoFailure } from '../ui/photo_failure'
import { useTakePhotos } from '../ui/take_photos'

export function AddPhotos({ plant }: { readonly plant: PlantID }) {
  const { storing, notTaken, add } = useTakePhotos(plant)
  const problems = new Set(notTaken.map(photoFailure))
  return (
    <>
      <div class="buttons">
        <label class="btn tall with-camera">
          <Icon name="camera" />{t('photos.take')}
          <input type="file" accept="image/*" capture="environment" class="unseen" disabled={storing} onChange={(event) => void add(event.currentTarget)} />
        </label>
        <label class="btn tall">
          <Icon name="picture" />{t('photos.choose')}
          <input type="file" accept="image/*" multiple class="unseen" disabled={storing} onChange={(event) => void add(event.currentTarget)} />
        </label>
      </div>
      {storing && <p class="small" role="status">{t('photos.storing')}</p>}
      {[...problems].map((problem) => <p key={problem} class="note stop" role="alert">{problem}</p>)}
    </>
  )
}
