// The app's sync against the real server over a bad network, by seeds. Run by npm run --prefix webapp
// proxy with CORYMB_BINARY naming the server. CORYMB_SEED=n replays one seed (work and faults are the
// same, though not to the millisecond), CORYMB_SEED=n-m runs those from n to m.

import { afterAll, expect, it, vi } from 'vitest'
import { hasten } from './clock'
import { Sheds } from './sheds'
import { World } from './world'

const [first = 1, last = first] = (process.env['CORYMB_SEED'] ?? '1-200').split('-').map(Number)
const seeds = Array.from({ length: last - first + 1 }, (_, i) => first + i)

hasten()
/** What the app said to have gone wrong within itself: nothing may. */
const said = vi.spyOn(console, 'error').mockImplementation(() => {})
const sheds = new Sheds()

afterAll(async () => {
  expect(await sheds.close()).toEqual([])
  expect(said.mock.calls.map(call => call.map(String).join(' '))).toEqual([])
})

it.concurrent.each(seeds)('seed %i: every phone ends with the same farm, and nothing acknowledged is lost or doubled', async seed => {
  const wrongs = await sheds.lend(seed, standing => World.run(seed, standing))
  expect(wrongs, `seed ${seed}; replay it with CORYMB_SEED=${seed}`).toEqual([])
})
