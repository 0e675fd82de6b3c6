// On an iPhone or iPad the app goes to the home screen before it joins: a page in the browser shares
// nothing with it.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { Welcome } from '../ui/Welcome'
import { readable } from './code'

interface InstallFirstProps {
  /** What the invitation's link brought; '' where none did. */
  readonly code: string
  readonly onAnyway: () => void
}

export function InstallFirst({ code, onAnyway }: InstallFirstProps) {
  return (
    <Welcome title={t('install.title')}>
      <p>{t('install.why')}</p>
      <ol class="steps">
        <li>{t('install.share')} <Icon name="share" /></li>
        <li>{t('install.add')}</li>
        <li>{t('install.open')}</li>
        <li>{code === '' ? t('install.type') : t('install.type.this')}</li>
      </ol>
      {code !== '' && <CodeToCarry code={readable(code)} />}
      <button type="button" class="btn quiet" onClick={onAnyway}>{t('install.anyway')}</button>
      <p class="small">{t('install.anyway.caution')}</p>
    </Welcome>
  )
}

function CodeToCarry({ code }: { readonly code: string }) {
  const [copied, setCopied] = useState<'copied' | 'copy.failed' | undefined>(undefined)
  const copy = () => { navigator.clipboard.writeText(code).then(() => setCopied('copied'), () => setCopied('copy.failed')) }
  return (
    <div class="card carry">
      <p class="code-large">{code}</p>
      {'clipboard' in navigator && <button type="button" class="btn" onClick={copy}>{t('install.copy')}</button>}
      <p class="small" role="status">{copied && t(`install.${copied}`)}</p>
    </div>
  )
}
