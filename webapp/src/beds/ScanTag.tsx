// A tag's plant, on its page. Wide screens keep the list of beds beside the camera.

import { ScanView } from '../scan/ScanView'
import { goInstead, href } from '../ui/route'
import { wide } from '../ui/wide'
import { BedList } from './BedList'

export function ScanTag() {
  const scan = <ScanView back={href('beds')} onPlant={(plant) => goInstead('beds', 'plant', plant.id)} />
  return wide.value ? <div class="beds-two"><BedList />{scan}</div> : scan
}
