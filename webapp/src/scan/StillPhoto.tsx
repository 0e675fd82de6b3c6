// A photo of a tag in place of the camera's live picture, for where there is none.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { alarmFeedback } from '../ui/feedback'
import { Icon } from '../ui/Icon'
import { decode } from './decode'
import { photoPictures } from './picture'
import type { Reader } from './reader'

interface StillPhotoProps {
  readonly reader: Promise<Reader>
  readonly onCode: (text: string) => void
}

type State = 'waiting' | 'reading' | 'nothing' | 'unreadable'

export function StillPhoto({ reader, onCode }: StillPhotoProps) {
  const [state, setState] = useState<State>('waiting')
  const read = async (input: HTMLInputElement) => {
    const file = input.files?.[0]
    input.value = '' // the same photo can be chosen again
    if (!file) return
    setState('reading')
    try {
      const text = await codeIn(file, await reader)
      setState(text === undefined ? 'nothing' : 'waiting')
      if (text === undefined) alarmFeedback()
      else onCode(text)
    } catch (reason) {
      console.error('reading a photo of a tag', reason)
      setState('unreadable')
    }
  }
  return (
    <>
      <label class="btn tall held">
        <Icon name="camera" />{t('scan.photo')}
        <input type="file" accept="image/*" capture="environment" class="unseen" disabled={state === 'reading'} onChange={(event) => void read(event.currentTarget)} />
      </label>
      <label class="btn tall on-desk">
        <Icon name="picture" />{t('scan.photo.choose')}
        <input type="file" accept="image/*" class="unseen" disabled={state === 'reading'} onChange={(event) => void read(event.currentTarget)} />
      </label>
      {state === 'reading' && <p class="small" role="status">{t('scan.photo.reading')}</p>}
      {(state === 'nothing' || state === 'unreadable') && <p class="note warn" role="alert">{t(`scan.photo.${state}`)}</p>}
    </>
  )
}

async function codeIn(file: Blob, reader: Reader): Promise<string | undefined> {
  for await (const picture of photoPictures(file)) {
    const text = await decode(reader, picture)
    if (text !== undefined) return text
  }
  return undefined
}
