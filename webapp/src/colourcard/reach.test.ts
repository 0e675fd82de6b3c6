// How well measuring does what is promised of it, by condition. A few scenes of each run; with CORYMB_REACH=1000 so
// many of those within reach and a tenth as many of each other condition, which takes an hour or more. Another
// first seed by CORYMB_SEED, some conditions by CORYMB_CONDITIONS=reach,glare, a tap on each head by CORYMB_TAP=1.

import { beforeAll, describe, expect, it, vi } from 'vitest'
import { realCodes } from './testing/codes'
import { calibrationOf, outcomeOf, rowOf, tableOf, type Outcome } from './testing/reach'
import { conditions, type Condition } from './testing/scenes'

vi.setConfig({ testTimeout: 24 * 3600_000, hookTimeout: 24 * 3600_000 })

const full = process.env['CORYMB_REACH'] === undefined ? undefined : Number(process.env['CORYMB_REACH'])
const first = Number(process.env['CORYMB_SEED'] ?? 1)
const touched = process.env['CORYMB_TAP'] === '1'
const chosen = process.env['CORYMB_CONDITIONS']?.split(',')
/** Where not all is run; and smaller, so that it takes no longer than other tests do. */
const few: Partial<Record<Condition, number>> = {
  reach: 4, everything: 1, 'too dark': 1, 'too blurred': 1, 'too slanted': 1, 'head cut off': 1, 'faded card': 1,
}
const size = full === undefined ? { width: 1280, height: 960 } : undefined

/** A test of what a few photos cannot show. It is not there where it is not run: a tally takes one left out for failed. */
const onlyWhole = (name: string, test: () => void) => {
  if (full !== undefined) it(name, test)
}

const outcomes: Outcome[] = []

beforeAll(async () => {
  const codes = await realCodes()
  for (const condition of conditions.filter((c) => chosen?.includes(c) ?? true)) {
    const n = full === undefined ? few[condition] ?? 0 : Math.ceil(condition === 'reach' ? full : full / 10)
    for (let seed = first; seed < first + n; seed++) outcomes.push(await outcomeOf(condition, seed, codes, touched, size))
    if (full !== undefined) console.log(condition, n)
  }
  const rows = conditions.map((condition) => [condition, outcomes.filter((one) => one.condition === condition)] as const)
    .filter(([, of]) => of.length > 0).map(([condition, of]) => [condition, rowOf(of)] as const)
  const promised = ['promised', rowOf(outcomes.filter(isPromised))] as const
  console.log(`seeds from ${first}\n${tableOf([promised, ...rows])}\n\n${stated()}\n\n${worst()}`)
})

/** What the numbers are asked of: a reach scene that a person would call usable. */
const isPromised = ({ condition, truth }: Outcome) => condition === 'reach' && truth.reach

function stated(): string {
  return calibrationOf(outcomes).map(({ stated: se, error, photos }) => `stated ${se.toFixed(2)}: error ${error.toFixed(2)} (${photos} photos)`).join('\n')
}

/** To be looked at: what went wrong within reach, and how to draw it again. */
function worst(): string {
  const lines = outcomes.filter(isPromised).toSorted((p, q) => badness(q) - badness(p)).slice(0, full === undefined ? 3 : 20)
  return lines.map(({ seed, truth, measured, error, wrong, cardFound, spreadError }) => [
    `reach ${seed}:`, wrong ? 'WRONG' : '', cardFound ? '' : 'no card', `dE ${error?.toFixed(2)}`, `spread ${spreadError === undefined ? '' : `${(100 * spreadError).toFixed(1)} %`}`,
    measured.problems.join(' '), Object.entries(truth.facts).map(([name, value]) => `${name} ${value.toFixed(2)}`).join(', '),
  ].filter((part) => part !== '').join(' ')).join('\n')
}

function badness({ wrong, error, cardFound, spreadError }: Outcome): number {
  return (wrong ? 1000 : 0) + (cardFound ? 0 : 200) + (error ?? 100) + 100 * Math.max(0, Math.abs(spreadError ?? 0) - 0.03)
}

const named = ({ condition, seed }: Outcome) => `${condition} ${seed}`

it('measures no other head than the one beside the card within reach, and hardly one beyond', () => {
  const wrong = outcomes.filter((one) => one.wrong)
  expect(wrong.filter(isPromised).map(named)).toEqual([])
  expect(wrong.length, wrong.map(named).join()).toBeLessThanOrEqual(full === undefined ? 0 : 0.01 * outcomes.length)
})

it('takes no other card than the one that is there, whatever the photo', () => {
  expect(outcomes.filter(({ measured, truth }) => measured.card !== undefined && measured.card.batch !== truth.batch).map(named)).toEqual([])
})

describe('within reach', () => {
  // Of the few that always run, one may be worse than 95 of 100 are.
  const slack = full === undefined ? 1.5 : 1

  it('finds the card in 97 % of what a person would call usable', () => {
    const { found } = rowOf(outcomes.filter(isPromised))
    if (full === undefined) expect(found).toBe(1)
    else expect(found).toBeGreaterThanOrEqual(0.97)
  })

  it('has a median error of 1.5 at most, and 3.0 in 95 of 100', () => {
    const { median, late } = rowOf(outcomes.filter(isPromised))
    expect(median).toBeLessThanOrEqual(1.5)
    expect(late).toBeLessThanOrEqual(3 * slack)
  })

  it('tells the spread within 3 %', () => {
    const { spreadLate } = rowOf(outcomes.filter(isPromised))
    expect(spreadLate).toBeLessThanOrEqual(0.03 * slack)
  })

  onlyWhole('holds the truth in 85 to 95 % of its 90 % regions', () => {
    const { held } = rowOf(outcomes.filter(isPromised))
    expect(held).toBeGreaterThanOrEqual(0.85)
    expect(held).toBeLessThanOrEqual(0.95)
  })
})

/** Nothing but what lies around shows that a shadow's edge runs between card and head, and nearly half of the time not enough. */
const isShadow = ({ condition }: Outcome) => condition === 'in a shadow'
const isUsual = ({ condition }: Outcome) => condition !== 'reach' && condition !== 'plain'

it('refuses what nobody would use, and says why', () => {
  const { refused, rightly } = rowOf(outcomes.filter((one) => isUsual(one) && !isShadow(one)))
  const least = full === undefined ? 1 : 0.95
  expect(refused).toBeGreaterThanOrEqual(least)
  expect(rightly).toBeGreaterThanOrEqual(least)
})

onlyWhole('refuses most photos in which a shadow’s edge runs between card and head', () => {
  const { refused, rightly } = rowOf(outcomes.filter(isShadow))
  expect(refused).toBeGreaterThanOrEqual(0.45)
  expect(rightly).toBeGreaterThanOrEqual(0.95)
})

onlyWhole('states more uncertainty where it is further off', () => {
  const parts = calibrationOf(outcomes)
  expect(parts.at(-1)!.error).toBeGreaterThan(parts[0]!.error)
})
