import { describe, expect, it } from 'vitest'
import type { Day, PlantID } from '../crop/nouns'
import { plantWith } from '../crop/testing/nouns'
import { plantsOf } from './match'

const told = [
  ['a', 'ACD EF', ''], ['b', 'acd ef', ''], ['c', 'HKV 4J', ''], ['d', 'QTP 96', '2026-03-01'], ['e', 'QTP 96', ''],
  ['f', 'Ñ1', ''], ['g', 'mre6f', ''], ['h', 'MRE 6F', ''], ['i', '', ''],
] as const
const plants = new Map(told.map(([id, code, removed]) => [id as PlantID, plantWith({ id: id as PlantID, code, removed: removed as Day | '' })]))

describe('the text of a tag leads to', () => {
  it.each([
    ['the plant whose code it is', 'HKV 4J', ['c']],
    ['the exact one before one that differs in capitals', 'acd ef', ['b']],
    ['a plant whose code differs in spaces and capitals', ' hkv4j\n', ['c']],
    ['a letter written in two parts', 'N\u03031', ['f']],
    ['all that it may be where none is exact', 'mre 6f', ['g', 'h']],
    ['all that have it, the one that stands first', 'QTP 96', ['e', 'd']],
    ['none where nobody has it', 'HKV 4X', []],
    ['none where it says nothing', '  ', []],
    ['none where it is part of a code', 'HKV', []],
  ])('%s', (_, text, ids) => {
    expect(plantsOf({ plants }, text).map(({ id }) => id)).toEqual(ids)
  })
})
