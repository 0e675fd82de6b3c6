// The cut list in a walk: what the bed is still to give of the plant's colour, and when it is enough. It always takes
// the same room, so that no key moves under a finger; and a tone and a buzz tell it to who does not look.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { CutList, CutRow } from '../crop/cut_list'
import type { Bed, Farm, Plant } from '../crop/nouns'
import { listed, t } from '../messages/messages'
import { enoughFeedback } from '../ui/feedback'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { colourCalled } from '../ui/sale_words'
import { today } from '../ui/today'
import { CutChoices, rowKey } from './cut_choices'
import { leftOf, sells, todaysCuts } from './cut_today'
import { enoughText } from './cut_words'
import './cut-line.css'

interface CutLineProps {
  readonly bed: Bed
  readonly plant: Plant
}

export function CutLine(props: CutLineProps) {
  return sells(useNotebook().farm.value.sales) ? <Line {...props} /> : null
}

function Line({ bed, plant }: CutLineProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const list = todaysCuts(notebook)
  if (list.plan.slots.length === 0) return null // nothing is due: the keys have the room
  return <Due farm={farm} list={list} bed={bed} plant={plant} />
}

interface DueProps extends CutLineProps {
  readonly farm: Farm
  readonly list: CutList
}

function Due({ farm, list, bed, plant }: DueProps) {
  const notebook = useNotebook()
  const choices = CutChoices.of(notebook)
  const rows = list.rows.filter((row) => row.bed === bed.id)
  const spoken = useEnough(farm, list, rows)
  const own = rows.find(({ colour }) => colour === plant.colour)
  const enough = rows.filter((row) => leftOf(choices, today.value, row) === 0)
  return (
    <a class={`cut-line${own && enough.includes(own) ? ' enough' : ''}`} href={href('row', 'cuts')}>
      <Icon name={own && enough.includes(own) ? 'check' : 'list'} />
      <span>
        <span class="own">{ownText(farm, list, own, plant, own !== undefined && choices.isTicked(today.value, rowKey(own)))}</span>
        <span class="others">{othersText(farm, rows, enough)}</span>
      </span>
      <span class="unseen" role="status">{spoken}</span>
    </a>
  )
}

function ownText(farm: Farm, list: CutList, row: CutRow | undefined, plant: Plant, ticked: boolean): string {
  const colour = colourCalled(farm, plant.colour)
  if (!row) return t('cuts.line.none', { colour })
  if (row.left === 0) return enoughText(farm, list, row)
  return ticked ? t('cuts.line.ticked', { colour }) : t('cuts.line.left', { colour, n: row.left, cut: row.cut })
}

function othersText(farm: Farm, rows: readonly CutRow[], enough: readonly CutRow[]): string {
  const names = (some: readonly CutRow[]) => listed(some.map(({ colour }) => colourCalled(farm, colour)))
  if (enough.length > 0) return t('cuts.line.enough', { colours: names(enough) })
  return rows.length > 0 ? t('cuts.line.wanted', { colours: names(rows) }) : ''
}

/** Sounds once whenever a colour class of the bed reaches its number, and gives the words for who cannot see them. */
function useEnough(farm: Farm, list: CutList, rows: readonly CutRow[]): string {
  const before = useRef(new Map<string, number>())
  const [spoken, say] = useState('')
  useEffect(() => {
    const reached = rows.filter((row) => row.left === 0 && (before.current.get(rowKey(row)) ?? 0) > 0)
    before.current = new Map(rows.map((row) => [rowKey(row), row.left]))
    if (reached.length === 0) return
    enoughFeedback()
    say(reached.map((row) => enoughText(farm, list, row)).join(' '))
  }, [list])
  return spoken
}
