// What a photo is called in a file of saved ones: people find its plant by it, and no two are called alike.

import type { Farm } from '../crop/nouns'
import type { OwnPhoto } from './photo_db'

export function savedName({ hash, plants }: Pick<OwnPhoto, 'hash' | 'plants'>, farm: Pick<Farm, 'plants'>): string {
  const codes = plants.flatMap(id => farm.plants.get(id)?.code ?? [])
  const readable = codes.join(' ').replace(/[^\p{L}\p{N} _-]+/gu, '_').slice(0, 80)
  return `${readable === '' ? '' : `${readable} `}${hash}.jpg`
}
