import { expect, test } from 'vitest'
import type { PersonID } from '../crop/nouns'
import type { JoinedDevice } from '../join/roster'
import { forgottenText } from './device_words'

const device: JoinedDevice = {
  device: 'd1', person: 'ana' as PersonID, name: 'Ana', role: 'crew', label: 'iPhone', joined: 1, seen: 2, withdrawn: 0,
  unsent: 0, connected: false, forgotten: false,
}

test.each([
  ['that comes and goes', {}, ''],
  ['that was not heard of for too long', { forgotten: true }, 'Not heard of for 18 months: joins again when it comes'],
  ['that was withdrawn, since which nothing is heard of it either', { forgotten: true, withdrawn: 3 }, ''],
] as const)('of a device %s', (_, part, says) => {
  expect(forgottenText({ ...device, ...part })).toBe(says)
})
