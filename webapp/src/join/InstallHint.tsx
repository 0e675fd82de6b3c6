// How the app comes to the home screen, where the browser offers it or has a menu for it.

import { t } from '../messages/messages'
import { installOffer, takeInstallOffer } from './install'
import { kindOf, thisBrowser } from './kind'

export function InstallHint() {
  const browser = thisBrowser()
  if (browser.standalone) return null
  if (installOffer.value) {
    return (
      <div class="note">
        <p>{t('install.hint')}</p>
        <button type="button" class="btn" onClick={takeInstallOffer}>{t('install.take')}</button>
      </div>
    )
  }
  return kindOf(browser).startsWith('android') ? <p class="note">{t('install.hint.menu')}</p> : null
}
