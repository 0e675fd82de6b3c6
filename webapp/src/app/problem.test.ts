import { expect, test } from 'vitest'
import type { StorageTrouble, SyncStatus } from '../sync/notebook'
import { type Problem, problemOf } from './problem'

test.each<[string, number, SyncStatus['link'], readonly StorageTrouble[], Problem | undefined]>([
  ['a phone that never had the farm', 0, 'offline', [], 'no_farm'],
  ['nor where its storage may be deleted', 0, 'refused', ['not_persistent'], 'no_farm'],
  ['a phone whose storage was emptied', 0, 'offline', ['lost', 'not_persistent'], 'emptied'],
  ['and that the shed refuses', 0, 'refused', ['lost'], 'emptied'],
  ['while the farm comes back', 0, 'catching_up', ['lost'], undefined],
  ['while it is asked for', 0, 'connecting', [], undefined],
  ['a phone that has the farm again', 1_780_000_000_000, 'offline', ['lost'], undefined],
])('%s', (_, levelAt, link, storage, problem) => {
  expect(problemOf({ levelAt, link }, storage)).toBe(problem)
})
