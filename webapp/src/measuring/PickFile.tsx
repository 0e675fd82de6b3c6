// A photo that is on the device, or one that the phone's own camera takes.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'

interface PickFileProps {
  readonly onFile: (file: Blob) => void
}

/** Beside the live picture: a square. */
export function PickFile({ onFile }: PickFileProps) {
  return (
    <label class="btn tall square tool">
      <Icon name="picture" />
      <span class="unseen">{t('measuring.file')}</span>
      <FileInput onFile={onFile} />
    </label>
  )
}

/** In place of the live picture: what is held in the hand takes a photo too. */
export function TakeOrPickFile({ onFile }: PickFileProps) {
  return (
    <div class="buttons">
      <label class="btn tall held"><Icon name="camera" />{t('photos.take')}<FileInput onFile={onFile} capture /></label>
      <label class="btn tall"><Icon name="picture" />{t('measuring.file')}<FileInput onFile={onFile} /></label>
    </div>
  )
}

function FileInput({ onFile, capture = false }: PickFileProps & { readonly capture?: boolean }) {
  const picked = (input: HTMLInputElement) => {
    const file = input.files?.[0]
    input.value = '' // the same photo can be chosen again
    if (file) onFile(file)
  }
  return <input type="file" accept="image/*" class="unseen" {...(capture && { capture: 'environment' })} onChange={(event) => picked(event.currentTarget)} />
}
