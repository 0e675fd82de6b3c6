// This device at the shed's door: who it is taken for, joining with a code, and leaving.

import { isRole, type Member, type Role } from '../crop/member'
import type { FarmID, PersonID } from '../crop/nouns'
import { ShapeError, textOf } from '../log/canonical'
import type { Door, Entered, Entry } from '../sync/door'
import { isBarred } from '../sync/door'
import { type Answer, ask, type Fields, listOf, optionalText } from './ask'

/** code is as normalCode gives it, '' where the shed is open; label a word by which people tell devices apart. */
export function join(code: string, device: string, label: string): Promise<Answer<Entered>> {
  return ask('POST', '/api/join', enteredOf, { code, device, label })
}

/** The shed forgets this device; what is stored on it stays there. */
export function leave(): Promise<Answer<undefined>> {
  return ask('POST', '/api/leave', () => undefined)
}

/** The page's own shed. hasCode tells whether a code waits to be used, which then is not passed by. */
export function doorOf(label: () => string, hasCode: () => boolean): Door {
  return {
    enter: async (device) => {
      const me = await ask('GET', '/api/me', enteredOf)
      const open = me.kind === 'refused' && me.code === 'join' && me.open && !hasCode()
      return entryOf(open ? await join('', device, label()) : me)
    },
  }
}

function entryOf(answer: Answer<Entered>): Entry {
  if (answer.kind === 'ok') return answer.value
  // A shed in trouble is out of reach for a while: that this device may not come in, it has not said.
  return answer.kind === 'refused' && isBarred(answer.code) ? { kind: answer.code } : { kind: 'unreachable' }
}

export function enteredOf(me: Fields): Entered {
  return { kind: 'member', device: idOf(me['device']), member: memberOf(me) }
}

function memberOf(me: Fields): Member {
  return {
    farm: idOf(me['farm']) as FarmID,
    farmName: optionalText(me['farm_name']),
    madeUp: me['made_up'] === true,
    person: idOf(me['person']) as PersonID,
    name: optionalText(me['name']),
    role: roleOf(me['role']),
    owners: listOf(me['owners'], (owner) => idOf(owner) as PersonID),
  }
}

export function idOf(part: unknown): string {
  const id = textOf(part)
  if (id === '') throw new ShapeError('an id is empty')
  return id
}

export function roleOf(part: unknown): Role {
  const role = textOf(part)
  if (!isRole(role)) throw new ShapeError(`${role.slice(0, 20)} is no role`)
  return role
}
