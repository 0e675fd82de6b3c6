// The rated walks of a bed, by address: #/row/stand/BED and #/row/colour/BED.

import type { BedID } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href, route } from '../ui/route'
import { ColourWalk } from './ColourWalk'
import { StandWalk } from './StandWalk'

export function RatedPlace() {
  const [, page, id] = route.value
  const bed = useNotebook().farm.value.beds.get((id ?? '') as BedID)
  if (!bed) return <PageHead title={t('bed.unknown')} back={href('row')} />
  return page === 'stand' ? <StandWalk key={bed.id} bed={bed} /> : <ColourWalk key={bed.id} bed={bed} />
}
