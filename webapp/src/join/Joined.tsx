// The device has joined: as whom, and what that allows.

import type { Member } from '../crop/member'
import { t } from '../messages/messages'
import { Welcome } from '../ui/Welcome'
import { InstallHint } from './InstallHint'

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
