// What stands beside the main action of a walk, whatever is walked for: the camera and the flags of the plant.

import type { Plant } from '../crop/nouns'
import { CameraButton } from './CameraButton'
import { FlagButton } from './FlagButton'
import './tools.css'

export function PlantTools({ plant }: { readonly plant: Plant }) {
  return (
    <>
      <CameraButton key={`camera ${plant.id}`} plant={plant.id} />
      <FlagButton key={plant.id} plant={plant} />
    </>
  )
}
