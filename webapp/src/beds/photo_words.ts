// How photos are put into words.

import { hasMessage, type Key, t } from '../messages/messages'
import type { OwnPhoto } from '../photos/photo_db'
import type { Picture } from './use_picture'

/** What a person should know of where a photo is; '' where there is nothing to say. */
export function stateText(own: OwnPhoto | undefined, shown: Picture['kind']): string {
  if (own && own.refusal !== '') return refusalText(own.refusal)
  if (own?.state === 'waiting') return t('photos.state.waits')
  return shown === 'not_here' || shown === 'removed' || shown === 'out_of_reach' ? t(`photos.state.${shown}`) : ''
}

function refusalText(code: string): string {
  const key = `photos.state.${code}`
  return t(hasMessage(key) ? (key as Key & 'photos.state.type') : 'photos.state.other')
}
