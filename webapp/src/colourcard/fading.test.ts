// What a card that has faded does to a measurement: the more it has, the less sure that says it is, until it is refused.

import { describe, expect, it } from 'vitest'
import { difference } from '../colour/difference'
import { measure } from './measure'
import { readCodes, realCodes } from './testing/codes'
import { render } from './testing/render'
import { drawScene } from './testing/scenes'

const size = { width: 800, height: 600 }

async function measured(seed: number, faded: number) {
  const { scene } = drawScene(seed, 'plain', await realCodes(), size)
  const { photo, card, truth } = render({ ...scene, print: { ...scene.print, faded } })
  return { truth, ...await measure(photo, readCodes, { cardOf: () => card }) }
}

describe.each([211, 23])('a card of scene %i', (seed) => {
  it('that has not faded says nothing of it', async () => {
    const { problems, lab, truth } = await measured(seed, 0)
    expect(problems).not.toContain('faded_card')
    expect(difference(lab!, truth.lab).total).toBeLessThan(1.5)
  })

  it('that has lost a quarter of its colour is told, and refused or as unsure as it is wrong', async () => {
    const { problems, lab, se, truth } = await measured(seed, 0.25)
    expect(problems).toContain('faded_card')
    if (lab && se) expect(Math.hypot((lab.a - truth.lab.a) / se.a, (lab.b - truth.lab.b) / se.b)).toBeLessThan(3.5)
  })

  it('that has lost half of it is refused', async () => {
    const { refused, problems } = await measured(seed, 0.5)
    expect({ refused, faded: problems.includes('faded_card') }).toEqual({ refused: true, faded: true })
  })
})
