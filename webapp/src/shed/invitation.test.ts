import { describe, expect, test } from 'vitest'
import type { PersonID } from '../crop/nouns'
import type { JoinedDevice, Roster } from '../join/roster'
import { byPerson, heldBy, outcomeOf, timeLeft } from './invitation'
import { modulesPath } from './QrCode'

const ana = 'ana' as PersonID
const ben = 'ben' as PersonID

function device(id: string, part: Partial<JoinedDevice> = {}): JoinedDevice {
  return { device: id, person: ana, name: 'Ana', role: 'crew', label: 'iPhone', joined: 1, seen: 2, withdrawn: 0, unsent: 0, connected: false, forgotten: false, ...part }
}

function roster(devices: readonly JoinedDevice[], invitations: Roster['invitations'] = []): Roster {
  return { origin: '', devices, people: [{ person: ana, name: 'Ana', role: 'crew' }], invitations, restored: 0 }
}

describe('an invitation', () => {
  const invited = { id: 'i1', code: 'ABCD-EFGH', link: '', expires: 1000, qr: [], trust: undefined }
  const open = [{ id: 'i1', person: ana, name: 'Ana', role: 'crew' as const, expires: 1000 }]
  const before = roster([device('old')])

  test.each([
    ['that the shed was not asked about yet is open', before, 500, 'open'],
    ['of which the shed told nothing until it was over has expired', before, 1000, 'expired'],
    ['that the shed still lists is open', roster([device('old')], open), 500, 'open'],
    ['that is over by the shed’s clock has expired, listed or not', roster([device('old')], open), 1000, 'expired'],
    ['that is over and no longer listed has expired', roster([device('old')]), 1000, 'expired'],
    ['that a new device took was used', roster([device('old'), device('new')]), 500, 'used'],
    ['that a device took which was withdrawn was used', roster([device('old', { joined: 400 })]), 500, 'used'],
    ['that is gone though nobody joined was taken back', roster([device('old')]), 500, 'gone'],
    ['that another person’s device did not take was taken back', roster([device('old'), device('new', { person: ben })]), 500, 'gone'],
  ])('%s', (_, now, moment, kind) => {
    expect(outcomeOf({ invited, person: ana, before }, now, moment).kind).toBe(kind)
  })
})

test('the roster by person has everybody by name, and of each the withdrawn devices last', () => {
  const devices = [
    device('gone', { withdrawn: 5, seen: 9 }), device('first', { seen: 3 }), device('last', { seen: 8 }),
    device('b', { person: ben, name: 'Ben', role: 'viewer' }),
  ]
  const found = byPerson(roster(devices)).map(({ name, role, devices: own }) => [name, role, own.map((one) => one.device)])
  expect(found).toEqual([['Ana', 'crew', ['last', 'first', 'gone']], ['Ben', 'viewer', ['b']]])
})

test('what a person’s devices hold unsent is added up, and those that said nothing are named', () => {
  const devices = [device('a', { unsent: 3 }), device('b', { unsent: undefined, label: 'tablet' }), device('c', { unsent: 4 })]
  expect(heldBy(devices)).toEqual({ unsent: 7, silent: ['tablet'] })
  expect(heldBy([device('a')])).toEqual({ unsent: 0, silent: [] })
})

test.each([[600_000, '10:00'], [599_001, '10:00'], [545_000, '9:05'], [1, '0:01'], [0, '0:00'], [-5, '0:00']])('%d ms are shown as %s', (ms, text) => {
  expect(timeLeft(ms)).toBe(text)
})

test('a QR code is drawn behind a quiet zone of four modules, a rectangle for each run', () => {
  expect(modulesPath(['110', '001', '000'])).toBe('M4 4h2v1h-2zM6 5h1v1h-1z')
})
