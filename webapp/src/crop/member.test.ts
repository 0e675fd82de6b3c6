import { expect, test } from 'vitest'
import { mayCorrect, mayManage, mayRecord, type Member, type Role } from './member'
import type { PersonID } from './nouns'

// As internal/access judges: crew's work is visits, a viewer writes nothing.
test.each<[Role | undefined, boolean, boolean]>([
  ['owner', true, true], ['crew', true, false], ['viewer', false, false],
  // A device that has not joined keeps what is counted on it until it has.
  [undefined, true, false],
])('%s records: %s, manages: %s', (role, records, manages) => {
  const member = role && ({ role } as Member)
  expect([mayRecord(member), mayManage(member)]).toEqual([records, manages])
})

test.each<[Role | undefined, string, boolean, boolean]>([
  ['owner', 'ben', false, true],
  ['crew', 'ana', false, true], ['crew', 'ben', false, false], ['crew', 'ben', true, true], ['crew', '', false, false],
  ['viewer', 'ana', true, false],
  [undefined, 'ana', true, true], [undefined, 'ana', false, false], [undefined, '', false, false],
])('%s, who is ana, of what %s recorded, on this phone: %s; may put it right: %s', (role, by, fromHere, may) => {
  const member = role && ({ role, person: 'ana' } as Member)
  expect(mayCorrect(member, by as PersonID, fromHere)).toBe(may)
})
