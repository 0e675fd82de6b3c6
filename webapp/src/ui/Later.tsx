// A page whose code is fetched when it is first opened; the service worker holds it for offline.

import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { t } from '../messages/messages'

interface LaterProps {
  readonly load: () => Promise<ComponentType>
}

export function Later({ load }: LaterProps) {
  const [page, setPage] = useState<{ Page: ComponentType } | 'failed' | undefined>(undefined)
  useEffect(() => {
    let gone = false
    load().then((Page) => { if (!gone) setPage({ Page }) }, () => { if (!gone) setPage('failed') })
    return () => { gone = true }
  }, [load])
  if (page === undefined) return <p class="page small" role="status">{t('loading')}</p>
  if (page === 'failed') return <p class="page note stop" role="alert">{t('loading.failed')}</p>
  return <page.Page />
}
