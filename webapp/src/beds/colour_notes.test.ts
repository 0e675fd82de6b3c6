import { describe, expect, it } from 'vitest'
import type { PlantID } from '../crop/nouns'
import { farmWith, plantWith } from '../crop/testing/nouns'
import { type Language, languageChoice, loadWords } from '../messages/messages'
import { colourNoteText } from './colour_notes'

const farm = farmWith({ plants: [plantWith({ id: 'p' as PlantID, code: 'R7' })] })

describe('a note on colours', () => {
  it.each<[Language, string, Record<string, string>, RegExp]>([
    ['en', 'readings_no_card', { readings: '1' }, /^1 photo has no card .* its session\.$/],
    ['en', 'readings_no_card', { readings: '2' }, /^2 photos have no card .* their session\.$/],
    ['en', 'readings_unfit', { readings: '1', of: '12' }, /^1 of 12 photos is not .* it says/],
    ['en', 'readings_unfit', { readings: '1500', of: '2000' }, /^1,500 of 2,000 photos are not .* they say/],
    ['en', 'sessions_untied', { sessions: '1' }, /^In 1 session fewer .* in it rests/],
    ['es', 'readings_no_card', { readings: '1' }, /^1 foto no tiene una tarjeta/],
    ['es', 'readings_unfit', { readings: '1', of: '12' }, /^1 de 12 fotos no es /],
    ['es', 'sessions_untied', { sessions: '2' }, /^En 2 sesiones .* en ellas/],
    ['en', 'reference_drifts', { plant: 'p', season: '2026' }, /^Reference plant R7 lies apart from the others in 2026/],
    ['en', 'few_references', { plants: '2' }, /^There are 2 reference plants/],
    ['en', 'of_a_later_version', {}, /^Something new\.$/],
  ])('in %s of %s with %j counts in singular and plural', async (language, code, args, said) => {
    languageChoice.value = language
    await loadWords(language)
    expect(colourNoteText(farm, { code, args, text: 'Something new.' })).toMatch(said)
  })
})
