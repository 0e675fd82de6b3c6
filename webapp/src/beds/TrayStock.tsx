// Which stock a tray is of, or a new one.

import { protectedBehind } from '../crop/lineage'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { WhatIs } from '../ui/WhatIs'
import { OneOf } from './OneOf'
import { StockFields } from './StockFields'
import { speciesOf, type TrayForm } from './tray'

interface TrayPartProps {
  readonly form: TrayForm
  readonly onChange: (change: Partial<TrayForm>) => void
}

export function TrayStock({ form, onChange }: TrayPartProps) {
  const farm = useNotebook().farm.value
  const stocks = [...farm.stocks.values()].sort((a, b) => a.name.localeCompare(b.name))
  const chosen = farm.stocks.get(form.stock)
  return (
    <section class="card">
      <h2 id="tray-stock">{t('tray.stock')}</h2>
      {stocks.length > 0 && (
        <OneOf
          labelledBy="tray-stock" all={stocks} at={form.stock} fresh={{ id: form.newStock, name: t('tray.stock.new') }}
          onChoose={(stock) => onChange({ stock })}
        />
      )}
      {protectedBehind(farm, chosen) && <WhatIs of="protected"><p class="small protected">{t('stock.protected')}</p></WhatIs>}
      {!chosen && (
        <StockFields
          folded form={form.stockForm} species={speciesOf(farm)}
          onChange={(change) => onChange({ stockForm: { ...form.stockForm, ...change } })}
        />
      )}
    </section>
  )
}
