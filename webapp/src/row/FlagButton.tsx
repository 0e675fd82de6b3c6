// The flags of the plant called out, opened over the counting keys and never in their way: no other button
// waits for it, and the same button closes it again.

import { useEffect, useState } from 'preact/hooks'
import type { Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { FlagChooser } from '../ui/FlagChooser'
import { Icon } from '../ui/Icon'

export function FlagButton({ plant }: { readonly plant: Plant }) {
  const [open, setOpen] = useState(false)
  const raised = new Set(plant.flags.map(({ kind }) => kind)).size
  useEffect(() => {
    if (!open) return
    const listen = (event: KeyboardEvent) => { if (event.key === 'Escape') setOpen(false) }
    addEventListener('keydown', listen)
    return () => removeEventListener('keydown', listen)
  }, [open])
  return (
    <>
      <button type="button" class="btn tall square tool" aria-expanded={open} aria-label={t('flags.button', { n: raised, code: plant.code })} onClick={() => setOpen(!open)}>
        <Icon name={raised > 0 ? 'flagged' : 'flag'} />
      </button>
      {open && (
        <section class="flag-panel" aria-label={t('flags.of', { code: plant.code })}>
          <p class="flag-panel-head"><b>{t('flags.of', { code: plant.code })}</b><button type="button" class="btn" onClick={() => setOpen(false)}>{t('flags.close')}</button></p>
          <FlagChooser plant={plant} />
        </section>
      )}
    </>
  )
}
