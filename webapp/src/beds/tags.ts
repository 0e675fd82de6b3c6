// Stake tags: which plants of a bed get one, on what paper, and the sheets as the shed draws them.

import { standingFlag } from '../crop/flags'
import type { Day, Farm, Plant, PlantID, PlantingID, Season } from '../crop/nouns'
import type { Paper } from '../ui/paper'

/** Plants of a bed among which a choice is made, in walk order, all standing. */
export interface TagsOf {
  readonly plants: readonly Plant[]
  readonly season: Season
  readonly day: Day
  readonly farm: Farm
  /** A plant, or a planting of which all; '' where none was asked for. */
  readonly asked: PlantID | PlantingID | ''
}

/** What plants can be chosen by; each has its words under tags.choice. */
export const tagChoices = {
  asked: ({ plants, asked }: TagsOf) => plants.filter(({ id, planting }) => asked !== '' && (id === asked || planting === asked)),
  counted: ({ plants, season }: TagsOf) => plants.filter((plant) => plant.counted.has(season)),
  mother: ({ plants }: TagsOf) => plants.filter((plant) => standingFlag(plant, 'mother') !== undefined),
  all: ({ plants }: TagsOf) => plants,
} as const satisfies Readonly<Record<string, (of: TagsOf) => readonly Plant[]>>

export type TagChoice = keyof typeof tagChoices
export const tagChoiceNames = Object.keys(tagChoices) as TagChoice[]

/** Tags on a sheet, as internal/tags lays them; its tests hold both to the same. */
export const tagsPerSheet: Readonly<Record<Paper, number>> = { a4: 14, letter: 16 }

/** What the shed prints at once, as server/httpapi says. */
export const mostTags = 5000

export function sheetsFor(tags: number, paper: Paper): number {
  return Math.ceil(tags / tagsPerSheet[paper])
}

/** Why the shed printed nothing: a code of its own, or that it did not answer. */
export interface NotPrinted {
  readonly code: string
  /** The plant's code, the text in which something cannot be printed, and that character; '' where untold. */
  readonly plant: string
  readonly text: string
  readonly character: string
}

/** Milliseconds after which the shed is taken not to answer: 5,000 tags take it a few seconds. */
const longestWait = 60_000

/** Asks the shed for the sheets, a PDF. */
export async function printTags(paper: Paper, plants: readonly PlantID[], origin = ''): Promise<Blob | NotPrinted> {
  try {
    const answer = await fetch(`${origin}/api/tags`, {
      method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ paper, plants }), signal: AbortSignal.timeout(longestWait),
    })
    if (answer.ok) return await answer.blob()
    return notPrinted((await answer.json()) as Fields)
  } catch (reason) {
    console.error('asking the shed for tags', reason)
    return { code: 'unreachable', plant: '', text: '', character: '' }
  }
}

type Fields = Readonly<Record<string, unknown>>

function notPrinted(answer: Fields): NotPrinted {
  const { error, problem } = answer as { error?: Fields; problem?: Fields }
  return { code: text(error?.['code']), plant: text(problem?.['plant']), text: text(problem?.['text']), character: text(problem?.['character']) }
}

function text(part: unknown): string {
  return typeof part === 'string' ? part : ''
}
