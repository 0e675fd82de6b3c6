// The photos of the farm that is open, for every component below the shell.

import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Photos } from './photos'

export const PhotosContext = createContext<Photos | undefined>(undefined)

export function usePhotos(): Photos {
  const photos = useContext(PhotosContext)
  if (!photos) throw new Error('a place was drawn before the photos were opened')
  return photos
}
