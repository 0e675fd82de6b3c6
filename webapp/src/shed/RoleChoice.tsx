// The roles, each with what it may do.

import { type Role, roles } from '../crop/member'
import { t } from '../messages/messages'

interface RoleChoiceProps {
  readonly role: Role
  readonly onChoose: (role: Role) => void
}

export function RoleChoice({ role, onChoose }: RoleChoiceProps) {
  return (
    <fieldset class="field">
      <legend>{t('role')}</legend>
      <div class="role-choices">
        {roles.map((one) => (
          <button key={one} type="button" class="btn" aria-pressed={one === role} onClick={() => onChoose(one)}>
            <span>{t(`role.${one}`)}<span class="small block">{t(`role.${one}.what`)}</span></span>
          </button>
        ))}
      </div>
    </fieldset>
  )
}
