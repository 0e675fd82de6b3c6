import { describe, expect, it } from 'vitest'
import { beyondNote, kindFacts, longestNote, noteFacts, noteText, toggleFacts } from './flags'
import type { Day, Flag, PersonID, PlantID } from './nouns'
import { farmWith, plantWith } from './testing/nouns'

const day = '2026-06-03' as Day
const [ana, ben] = ['ana', 'ben'] as [PersonID, PersonID]
const flag = (kind: Flag['kind'], by: PersonID): Flag => ({ kind, day, by })
const written = (facts: ReturnType<typeof kindFacts>) => facts.map(({ op, field, value }) => `${op} ${field} ${String(value)}`)

describe('a tap on a kind of flag', () => {
  it.each([
    ['raises it where none stands', [], ['add flags divide/2026-06-03/ana']],
    ['raises it beside one of another kind', [flag('lift', ben)], ['add flags divide/2026-06-03/ana']],
    ['clears it where it stands', [flag('divide', ben)], ['remove flags divide/2026-06-03/ben']],
    ['clears every standing one of its kind', [flag('divide', ana), flag('lift', ana), flag('divide', ben)],
      ['remove flags divide/2026-06-03/ana', 'remove flags divide/2026-06-03/ben']],
  ] as const)('%s', (_, flags, facts) => {
    const farm = farmWith({ plants: [plantWith({ flags })] })
    expect(written(toggleFacts(farm, 'p' as PlantID, 'divide', day, ana))).toEqual(facts)
  })

  it('is undone with the days and persons that it cleared', () => {
    const plant = plantWith({ flags: [flag('divide', ben), flag('lift', ana)] })
    expect(written(kindFacts(plant, 'divide', true))).toEqual(['add flags divide/2026-06-03/ben'])
  })
})

describe('a note', () => {
  it('is kept in NFC and without white space around it', () => {
    expect(noteText('  nin\u0303o \n')).toBe('niño')
    expect(written(noteFacts('p' as PlantID, { day, by: ana, text: 'leans/north' }, true))).toEqual(['add notes 2026-06-03/ana/leans/north'])
  })

  it.each([['', 0], ['x'.repeat(longestNote), 0], [`  ${'x'.repeat(longestNote)}  `, 0], ['x'.repeat(longestNote + 3), 3], ['🌼'.repeat(longestNote), 0]])(
    'counts characters as people do: %#', (text, beyond) => {
      expect(beyondNote(text)).toBe(beyond)
    })
})
