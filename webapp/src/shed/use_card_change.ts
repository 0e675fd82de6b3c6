// Changing a batch of cards and taking the last change back, also from the page that one comes to after it.

import { signal } from '@preact/signals'
import { useState } from 'preact/hooks'
import { cardFacts } from '../crop/facts'
import type { Card, CardID } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'

/** What was changed last, since the app was opened. */
const last = signal<{ readonly before: Told; readonly said: string } | undefined>(undefined)

type Told = Partial<Card> & Pick<Card, 'id'>

export interface CardChange {
  /** What was done to this batch last and can be taken back. */
  readonly said: string | undefined
  readonly problem: string
  /** Stores what is told of the batch; whether it could be. */
  readonly change: (told: Partial<Card>, said: string, alongside?: Readonly<Record<string, unknown>>) => Promise<boolean>
  readonly undo: () => Promise<boolean>
}

export function useCardChange(card: Card): CardChange {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const store = async (told: Told, alongside: Readonly<Record<string, unknown>>) => {
    try {
      await notebook.recordInTurn(() => ({ facts: cardFacts(told), alongside }))
      setProblem('')
      return true
    } catch (reason) {
      setProblem(failureText(reason))
      return false
    }
  }
  const change: CardChange['change'] = async (told, said, alongside = {}) => {
    const before = fieldsOf(card, told)
    if (!(await store({ ...told, id: card.id }, alongside))) return false
    last.value = { before, said }
    announce(said)
    return true
  }
  const undo = async () => {
    const done = last.peek()
    if (!done || !(await store(done.before, {}))) return false
    last.value = undefined
    announce(t('cards.undone'))
    return true
  }
  return { said: last.value?.before.id === card.id ? last.value.said : undefined, problem, change, undo }
}

/** The same fields of a batch as are told, as they stand. */
function fieldsOf(card: Card, told: Partial<Card>): Told {
  const names = Object.keys(told) as (keyof Card)[]
  return { ...Object.fromEntries(names.map((name) => [name, card[name]])), id: card.id as CardID }
}
