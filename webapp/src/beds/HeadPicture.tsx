// A measured head: cut out of its photo, above its measured colour; the colour alone while the photo is not on this device.

import { useState } from 'preact/hooks'
import { hexOf } from '../colour/shown'
import type { HeadBox, PhotoHash, Reading } from '../crop/nouns'
import { cutOut } from './cut_out'
import { usePicture } from './use_picture'

/** For eyes alone: what it shows is told in words beside it. */
export function HeadPicture({ reading: { photo, head, lab } }: { readonly reading: Pick<Reading, 'photo' | 'head' | 'lab'> }) {
  return (
    <span class="head-picture" aria-hidden="true" style={{ background: hexOf(lab) }}>
      {photo !== '' && head && <Cut photo={photo} head={head} />}
    </span>
  )
}

function Cut({ photo, head }: { readonly photo: PhotoHash; readonly head: HeadBox }) {
  const { url } = usePicture(photo, 'small')
  const [size, setSize] = useState<{ readonly width: number; readonly height: number } | undefined>(undefined)
  if (url === undefined) return null
  const cut = size && cutOut(head, size)
  return (
    <span class="cut" hidden={!cut}>
      <img
        src={url} alt="" style={cut && { width: `${cut.width}%`, left: `${cut.left}%`, top: `${cut.top}%` }}
        onLoad={({ currentTarget: { naturalWidth: width, naturalHeight: height } }) => setSize({ width, height })}
      />
    </span>
  )
}
