// The lines of an order as it is being written: each in words, one at a time open to be changed.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Day, Farm } from '../crop/nouns'
import { bunchesPacked } from '../crop/over_packed'
import { linePrice } from '../crop/price_of'
import type { BuyerID, LineID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useRights } from '../ui/rights'
import { lineText } from '../ui/sale_words'
import { Swatches } from './ColourPick'
import { LineEditor } from './LineEditor'
import { type LineDraft, lineOfBunch, readLine } from './order_form'
import { lineWarningText, problemText } from './warning_words'
import { lineWarnings } from './warnings'

interface LineDraftsProps {
  readonly farm: Farm
  readonly buyer: BuyerID | ''
  readonly day: Day
  readonly follows?: boolean
  readonly lines: readonly LineDraft[]
  readonly onLines: (lines: readonly LineDraft[]) => void
}

export function LineDrafts({ farm, buyer, day, follows = false, lines, onLines }: LineDraftsProps) {
  const [open, setOpen] = useState<LineID | ''>(lines.length === 1 ? lines[0]!.id : '')
  const add = () => {
    const last = lines.at(-1)
    const bunch = last ? farm.sales.bunches.get(last.bunch as never) : [...farm.sales.bunches.values()].sort((a, b) => a.name.localeCompare(b.name))[0]
    const line = lineOfBunch(newUUID() as LineID, bunch, farm.unit)
    onLines([...lines, line])
    setOpen(line.id)
  }
  return (
    <section class="line-drafts" aria-label={t('orders.lines')}>
      <h2>{t('orders.lines')}</h2>
      {lines.map((line, i) => (line.id === open
        ? (
          <LineEditor
            key={line.id} farm={farm} draft={line} buyer={buyer} day={day} follows={follows} packed={bunchesPacked(farm.sales, line.id)} onDone={() => setOpen('')}
            onChange={(part) => onLines(lines.map((one) => (one.id === line.id ? { ...one, ...part } : one)))}
            onRemove={() => onLines(lines.filter(({ id }) => id !== line.id))}
          />
        )
        : <DraftInWords key={line.id} farm={farm} buyer={buyer} day={day} draft={line} place={i + 1} onOpen={() => setOpen(line.id)} />))}
      <button type="button" class="btn tall" onClick={add}>{t('orders.line.add')}</button>
    </section>
  )
}

interface DraftInWordsProps extends Pick<LineDraftsProps, 'farm' | 'buyer' | 'day'> {
  readonly draft: LineDraft
  readonly place: number
  readonly onOpen: () => void
}

function DraftInWords({ farm, buyer, day, draft, place, onOpen }: DraftInWordsProps) {
  const may = useRights()
  const read = readLine(draft, farm.unit)
  if ('problem' in read) {
    return <button type="button" class="line-draft" onClick={onOpen}><span class="note stop">{problemText({ of: read.problem, line: place })}</span></button>
  }
  const price = buyer === '' ? read.line.price : linePrice(farm.sales, buyer, read.line, day)
  const warnings = may.manage && buyer !== '' ? lineWarnings(farm.sales, buyer, read.line, day) : []
  return (
    <button type="button" class="line-draft" onClick={onOpen}>
      <span><Swatches farm={farm} colours={draft.colours} />{lineText(farm, read.line)}</span>
      {may.manage && price > 0 && <span class="num">{amount(price, farm.sales.terms.currency)}</span>}
      {warnings.map((one) => <span key={one.kind} class="note warn">{lineWarningText(farm, one)}</span>)}
    </button>
  )
}
