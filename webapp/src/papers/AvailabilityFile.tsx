// The file of what is on offer: which columns, in which order.

import { locale, t } from '../messages/messages'
import { download } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import type { Offer } from './availability'
import type { PriceOf } from './availability_price'
import { availabilityCsv, type CsvColumn, csvColumns, movedUp, priceColumns, toggled } from './availability_csv'
import { availabilitySettings, setAvailability } from './availability_settings'

interface AvailabilityFileProps {
  readonly offers: readonly Offer[]
  readonly priceOf: PriceOf | undefined
}

export function AvailabilityFile({ offers, priceOf }: AvailabilityFileProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const { bunch, columns } = availabilitySettings.value
  const allowed = (column: CsvColumn) => may.manage || !priceColumns.includes(column)
  const written = columns.filter(allowed)
  const left = csvColumns.filter((column) => allowed(column) && !written.includes(column))
  const save = () => {
    const text = availabilityCsv(farm, offers, { columns: written, bunch, currency: farm.sales.terms.currency, locale: locale.value, priceOf })
    download(new Blob([text], { type: 'text/csv;charset=utf-8' }), `availability-${offers[0]?.day ?? ''}.csv`)
  }
  const keep = (next: readonly CsvColumn[]) => void setAvailability(notebook, { columns: next })
  return (
    <div class="card">
      <h2>{t('availability.file')}</h2>
      <ol class="csv-columns">
        {written.map((column, i) => (
          <li key={column}>
            <Tick column={column} on only={written.length === 1} onChange={() => keep(toggled(written, column))} />
            <button type="button" class="btn" disabled={i === 0} aria-label={t('availability.column.up', { column: t(`availability.column.${column}`) })} onClick={() => keep(movedUp(written, column))}><Icon name="up" /></button>
          </li>
        ))}
      </ol>
      {left.length > 0 && <ul class="csv-columns">{left.map((column) => <li key={column}><Tick column={column} on={false} only={false} onChange={() => keep(toggled(written, column))} /></li>)}</ul>}
      <button type="button" class="btn tall" onClick={save}><Icon name="save" />{t('availability.file.save')}</button>
      <p class="small">{t('availability.file.how')}</p>
    </div>
  )
}

interface TickProps {
  readonly column: CsvColumn
  readonly on: boolean
  /** The last one stays. */
  readonly only: boolean
  readonly onChange: () => void
}

function Tick({ column, on, only, onChange }: TickProps) {
  return (
    <label class="switch">
      <input type="checkbox" checked={on} disabled={only} onChange={onChange} />
      <span>{t(`availability.column.${column}`)}</span>
    </label>
  )
}
