// Locked for the pocket: no tap counts until it is held open for a second. Keys still count, since a
// button in the hand is why the phone is in the pocket at all.

import { useEffect, useRef } from 'preact/hooks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { go, route } from '../ui/route'
import { useWakeLock } from '../ui/wake'
import { placeName } from '../ui/words'
import { actionText } from './answers'
import { HoldButton } from './HoldButton'
import { Session } from './session'

/** For the shell, above every place: a phone that a pocket takes elsewhere stays locked, and comes back. */
export function Lock() {
  const session = Session.of(useNotebook())
  return session.locked.value ? <LockScreen session={session} /> : null
}

export function LockButton({ session }: { readonly session: Session }) {
  return (
    <button type="button" class="btn quiet lock-button" aria-label={t('lock')} onClick={() => { session.locked.value = true }}>
      <Icon name="lock" />
    </button>
  )
}

function LockScreen({ session }: { readonly session: Session }) {
  const dialog = useRef<HTMLDialogElement>(null)
  useWakeLock()
  useEffect(() => {
    const show = () => dialog.current?.open || dialog.current?.showModal()
    show()
    // The back gesture of a phone closes what is on top, asked or not.
    dialog.current?.addEventListener('close', show)
    return () => dialog.current?.removeEventListener('close', show)
  }, [])
  // Keys count on the page of the walk alone: a pocket that left it is brought back.
  useEffect(() => { if (route.value[0] !== 'row' || route.value.length > 1) go('row') }, [route.value])
  return (
    <dialog class="lock" ref={dialog} aria-label={t('lock.on')} onCancel={(event) => event.preventDefault()}>
      <h1><Icon name="lock" /> {t('lock.on')}</h1>
      <p class="say">{t('lock.taps')}</p>
      <p>{t('lock.keys')}</p>
      <Now session={session} />
      <HoldButton onHeld={() => { session.locked.value = false }} />
    </dialog>
  )
}

/** What a glance at a phone just pulled out wants: where the walk stands, and what was last recorded. */
function Now({ session }: { readonly session: Session }) {
  const farm = useNotebook().farm.value
  const at = session.position.value?.at
  const plant = at ? farm.plants.get(at) : undefined
  const last = session.last()
  return (
    <div class="lock-now" role="status">
      <p>{plant ? t('lock.at', { code: plant.code, place: placeName(plant) }) : t('lock.end')}</p>
      <p>{last ? t('row.last', { action: actionText(last, farm) }) : t('row.last.none')}</p>
    </div>
  )
}
