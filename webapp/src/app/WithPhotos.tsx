// The photos of this device for all that is below, and their way to the shed as long as the notebook is open.

import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { PhotosContext } from '../photos/context'
import { Photos } from '../photos/photos'
import { useNotebook } from '../ui/notebook'

export function WithPhotos({ children }: { readonly children: ComponentChildren }) {
  const notebook = useNotebook()
  const [photos] = useState(() => new Photos(notebook))
  useEffect(() => () => photos.close(), [])
  return <PhotosContext.Provider value={photos}>{children}</PhotosContext.Provider>
}
