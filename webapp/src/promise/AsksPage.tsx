// The asks that were kept: those still open, those answered, and what could not be met by week and colours.

import { useMemo } from 'preact/hooks'
import type { Ask } from '../crop/ahead_nouns'
import { addDays } from '../crop/day'
import { mondayOf } from '../crop/due'
import type { Day, Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { WhatIs } from '../ui/WhatIs'
import { AskRow } from './AskRow'
import { UnmetTable } from './UnmetTable'
import { unmetByWeek } from '../crop/unmet'

export function AsksPage() {
  const farm = useNotebook().farm.value
  const doing = useUndoable()
  const { open, answered, before } = useMemo(() => parted(farm, today.value), [farm.ahead, today.value])
  const unmet = useMemo(() => unmetByWeek(farm.ahead.asks.values()), [farm.ahead])
  return (
    <>
      <PageHead title={t('asks.title')} back={href('ahead')} />
      <div class="page promise">
        <a class="btn main" href={href('ahead', 'ask')}>{t('promise.title')}</a>
        <WhatIs of="ask" />
        <UndoNote {...doing} />
        {farm.ahead.asks.size === 0 && <p class="note">{t('asks.none')}</p>}
        <div class="columns">
          <div>
            <AskList name={t('asks.open')} asks={open} doing={doing} />
            <AskList name={t('asks.answered')} asks={answered} doing={doing} />
          </div>
          <div>
            {unmet.length > 0 && <UnmetTable farm={farm} unmet={unmet} />}
            {before.length > 0 && (
              <details>
                <summary class="ask-before">{t('asks.before', { n: before.length })}</summary>
                <AskList name="" asks={before} doing={doing} />
              </details>
            )}
          </div>
        </div>
      </div>
    </>
  )
}

interface AskListProps {
  readonly name: string
  readonly asks: readonly Ask[]
  readonly doing: ReturnType<typeof useUndoable>
}

function AskList({ name, asks, doing }: AskListProps) {
  if (asks.length === 0) return null
  return (
    <section>
      {name !== '' && <h2>{name}</h2>}
      <ul class="rows">{asks.map((ask) => <AskRow key={ask.id} ask={ask} doing={doing} />)}</ul>
    </section>
  )
}

/** Those still open first, whatever their day; of those answered, what was due before last week stands apart. */
function parted({ ahead }: Farm, day: Day) {
  const all = [...ahead.asks.values()].sort((a, b) => a.due.localeCompare(b.due) || a.id.localeCompare(b.id))
  const since = addDays(mondayOf(day), -7)
  return {
    open: all.filter(({ answer }) => answer === ''),
    answered: all.filter(({ answer, due }) => answer !== '' && due >= since),
    before: all.filter(({ answer, due }) => answer !== '' && due < since).reverse(),
  }
}
