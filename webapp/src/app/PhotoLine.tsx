// A line over every place while a picture was not taken in and nobody has seen why: who takes photos goes on
// to the next plant before the last one is stored.

import { t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href, route } from '../ui/route'

export function PhotoLine() {
  const plants = useNotebook().farm.value.plants
  const here = route.value
  const [id] = [...usePhotos().notTaken.value.keys()].filter((one) => !here.includes(one))
  const plant = id && plants.get(id)
  if (!plant) return null
  return (
    <p class="note stop" role="alert">
      <Icon name="warn" /> <a href={href('beds', 'plant', plant.id)}>{t('photos.not_taken', { plant: plant.code })}</a>
    </p>
  )
}
