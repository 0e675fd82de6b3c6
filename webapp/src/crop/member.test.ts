import { expect, test } from 'vitest'
import { mayManage, mayRecord, type Member, type Role } from './member'

// As internal/access judges: crew's work is visits, a viewer writes nothing.
test.each<[Role | undefined, boolean, boolean]>([
  ['owner', true, true], ['crew', true, false], ['viewer', false, false],
  // A device that has not joined keeps what is counted on it until it has.
  [undefined, true, false],
])('%s records: %s, manages: %s', (role, records, manages) => {
  const member = role && ({ role } as Member)
  expect([mayRecord(member), mayManage(member)]).toEqual([records, manages])
})
