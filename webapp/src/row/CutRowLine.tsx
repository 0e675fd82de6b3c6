// One row of the cut list: how many of which colour class, what it is for behind a tap, and ticking it off by hand.

import { useId, useState } from 'preact/hooks'
import type { CutList, CutPart, CutRow } from '../crop/cut_list'
import { buyerName } from '../crop/due'
import { count, dayName, listed, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { colourCalled } from '../ui/sale_words'
import { today } from '../ui/today'
import { type CutChoices, rowKey } from './cut_choices'
import { enoughText, leastName } from './cut_words'

interface RowProps {
  readonly list: CutList
  readonly row: CutRow
  readonly choices: CutChoices
}

export function CutRowLine({ list, row, choices }: RowProps) {
  const farm = useNotebook().farm.value
  const [open, setOpen] = useState(false)
  const whatFor = useId()
  const colour = colourCalled(farm, row.colour)
  const ticked = row.left > 0 && choices.isTicked(today.value, rowKey(row))
  const done = ticked || row.left === 0
  const tick = (on: boolean) => choices.tick(today.value, rowKey(row), on)
  return (
    <li class={done ? 'cut-row done' : 'cut-row'}>
      <button type="button" class="cut-what" aria-expanded={open} aria-controls={whatFor} onClick={() => setOpen(!open)}>
        <span class="number">{done ? <Icon name="check" /> : count(row.left)}</span>
        <span class="words">
          <span class="colour"><Head swatch={(row.colour === '' ? undefined : farm.colours.get(row.colour)?.swatch) ?? ''} size={26} />{colour}</span>
          {!done && parts(row).map((part, i) => <span class="least" key={i}>{leastOf(part, row)}</span>)}
          <span class="small block">{stateText(list, row, ticked)}</span>
        </span>
      </button>
      {row.left > 0 && (
        <button type="button" class="btn tick" aria-label={t(ticked ? 'cuts.untick' : 'cuts.tick', { colour })} onClick={() => tick(!ticked)}>
          {ticked ? t('undo') : <Icon name="check" />}
        </button>
      )}
      {open && <WhatFor id={whatFor} row={row} />}
    </li>
  )

  function leastOf(part: CutPart, { parts: all }: CutRow): string {
    const least = leastName(farm, part.want)
    return all.filter((one) => one.left > 0).length > 1 ? t('cuts.part', { n: part.left, least }) : least
  }

  function stateText(of: CutList, { left, cut, unfit }: CutRow, isTicked: boolean): string {
    const said = left === 0 ? [enoughText(farm, of, row)] : isTicked ? [t('cuts.ticked', { n: left })] : cut > 0 ? [t('cuts.cut', { n: cut })] : []
    return [...said, ...(unfit > 0 ? [t('cuts.unfit', { n: unfit })] : [])].join(' · ')
  }
}

function parts(row: CutRow): CutPart[] {
  return row.parts.filter(({ left }) => left > 0)
}

function WhatFor({ id, row }: { readonly id: string; readonly row: CutRow }) {
  const farm = useNotebook().farm.value
  return (
    <div class="what-for" id={id}>
      {row.parts.map(({ want, stems }, i) => (
        <div key={i}>
          <p>{t('cuts.for', { n: stems, least: leastName(farm, want) })}</p>
          {want.any && <p class="small">{t('cuts.for.any')}</p>}
          {!want.any && want.colours.length > 1 && <p class="small">{t('cuts.for.mixed', { colours: listed(want.colours.map((colour) => colourCalled(farm, colour))) })}</p>}
          {want.instead && <p class="small">{t('cuts.for.instead')}</p>}
          <ul>
            {want.for.map(({ need, stems: lack }) => (
              <li key={need.line}><span>{buyerName(farm.sales, need.buyer)}, {dayName(need.due, today.value)}</span> <b>{count(lack)}</b></li>
            ))}
          </ul>
        </div>
      ))}
      {!row.known && <p class="small">{t('cuts.for.unknown')}</p>}
    </div>
  )
}
