// Which photos of this device are to be sent, kept and let go of.

import type { Farm, PhotoHash, Plant } from '../crop/nouns'
import type { OwnPhoto } from './photo_db'

/** Of what the shed has, so much is kept in full all the same: a shed may be restored and lack it again. */
export const newestKept = 50
export const mostKept = 100_000_000
/** Milliseconds after which a photo whose change never came about is dropped. */
const patience = 24 * 3_600_000

/** Whether a plant shows it: one that was taken away is not sent. */
export function stands(photo: OwnPhoto, farm: Pick<Farm, 'plants'>): boolean {
  return plantsOf(photo, farm).some(({ photos }) => photos.some(({ hash }) => hash === photo.hash))
}

export function waits(photo: OwnPhoto, farm: Pick<Farm, 'plants'>): boolean {
  return photo.state === 'waiting' && photo.refusal === '' && stands(photo, farm)
}

/**
 * Whether its bytes are nowhere else, as far as the shed said, and nobody took it away: also one that the
 * shed refused, or whose change it did not keep.
 */
export function isOnlyHere(photo: OwnPhoto, farm: Pick<Farm, 'plants'>): boolean {
  const away = plantsOf(photo, farm).some(({ photosAway }) => photosAway.some(({ hash }) => hash === photo.hash))
  return photo.state === 'waiting' && (stands(photo, farm) || !away)
}

function plantsOf(photo: OwnPhoto, farm: Pick<Farm, 'plants'>): Plant[] {
  return photo.plants.map(id => farm.plants.get(id)).filter(plant => plant !== undefined)
}

/** Those sent beyond the newest, and beyond so many bytes. */
export function beyondKept(own: Iterable<OwnPhoto>): PhotoHash[] {
  let bytes = 0
  const sent = [...own].filter(({ state }) => state === 'sent').sort((a, b) => b.at - a.at)
  return sent.filter((photo, i) => (bytes += photo.size) > mostKept || i >= newestKept).map(({ hash }) => hash)
}

/**
 * Photos that no change ever named: the app was killed between the photo and its change. Where a plant
 * is not known here, or its change was refused, nothing is concluded.
 */
export function neverNamed(own: Iterable<OwnPhoto>, farm: Pick<Farm, 'plants'>, refused: ReadonlySet<unknown>, now: number): PhotoHash[] {
  const isNever = (photo: OwnPhoto) =>
    photo.state === 'waiting' && now - photo.at > patience && !refused.has(photo.hash)
    && plantsOf(photo, farm).length === photo.plants.length && !isNamed(photo, farm)
  return [...own].filter(isNever).map(({ hash }) => hash)
}

function isNamed(photo: OwnPhoto, farm: Pick<Farm, 'plants'>): boolean {
  return plantsOf(photo, farm).some(({ photos, photosAway }) => [...photos, ...photosAway].some(({ hash }) => hash === photo.hash))
}
