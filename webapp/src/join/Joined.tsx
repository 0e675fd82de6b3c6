// The device has joined: as whom, what that allows, and how the app comes to the home screen.

import type { Member } from '../crop/member'
import { t } from '../messages/messages'
import { Welcome } from '../ui/Welcome'
import { installOffer, takeInstallOffer } from './install'
import { kindOf, thisBrowser } from './kind'

interface JoinedProps {
  readonly member: Member
  readonly onDone: () => void
}

export function Joined({ member, onDone }: JoinedProps) {
  const { farmName, name, role } = member
  return (
    <Welcome title={farmName === '' ? t('joined.unnamed') : t('joined', { farm: farmName })}>
      {name !== '' && <p>{t('joined.as', { name })}</p>}
      <p>{t(`role.${role}.may`)}</p>
      <InstallHint />
      <button type="button" class="btn main" onClick={onDone}>{t('joined.start')}</button>
    </Welcome>
  )
}

function InstallHint() {
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
