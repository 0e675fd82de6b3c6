// A picture of a photo as it can be shown now. One that the shed lacks is asked for again while it is looked
// at; one that an owner deletes goes while it is.

import { useEffect, useState } from 'preact/hooks'
import type { PhotoHash } from '../crop/nouns'
import { usePhotos } from '../photos/context'
import type { Bytes } from '../photos/photo_db'
import type { Fetched } from '../photos/requests'

export interface Picture {
  readonly kind: Fetched['kind'] | 'coming'
  /** Of the picture, where it is here. */
  readonly url: string | undefined
}

/** Milliseconds until a picture that was not there is asked for again, twice as long each time. */
const firstWait = 5_000
const longestWait = 300_000

export function usePicture(hash: PhotoHash, size: 'small' | 'full'): Picture {
  const photos = usePhotos()
  const [fetched, setFetched] = useState<Fetched | undefined>(undefined)
  const inReach = photos.inReach.value
  const removed = photos.removed.value.has(hash)
  const bytes = fetched?.kind === 'here' ? fetched.bytes : undefined
  useEffect(() => {
    if (bytes || removed) return
    let gone = false
    let wait = firstWait
    let timer: ReturnType<typeof setTimeout>
    const look = async () => {
      const now = await photos[size](hash)
      if (gone) return
      setFetched(now)
      if (inReach && now.kind !== 'here') timer = setTimeout(() => void look(), wait)
      wait = Math.min(2 * wait, longestWait)
    }
    void look()
    return () => {
      gone = true
      clearTimeout(timer)
    }
  }, [bytes === undefined, inReach, removed])
  const url = useObjectURL(removed ? undefined : bytes)
  if (removed) return { kind: 'removed', url: undefined }
  return { kind: fetched?.kind ?? 'coming', url }
}

/** An address of bytes for as long as they are shown. */
function useObjectURL(bytes: Bytes | undefined): string | undefined {
  const [url, setUrl] = useState<string | undefined>(undefined)
  useEffect(() => {
    if (!bytes) return
    const made = URL.createObjectURL(new Blob([bytes], { type: 'image/jpeg' }))
    setUrl(made)
    return () => URL.revokeObjectURL(made)
  }, [bytes])
  return url
}
