// The farm's stocks: where plants come from, and which may not be propagated.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { stockEdits } from '../crop/edits'
import { stockFacts } from '../crop/facts'
import { protectedBehind } from '../crop/lineage'
import type { Farm, Stock, StockID } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { go, href } from '../ui/route'
import { failureText } from '../ui/words'
import { StockFields } from './StockFields'
import { freshStock, speciesOf, type StockForm } from './tray'
import './tray.css'

export function StocksPage() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const stocks = [...farm.stocks.values()].sort((a, b) => a.name.localeCompare(b.name))
  const plants = plantsByStock(farm)
  return (
    <>
      <PageHead title={t('stocks.title')} back={href('beds')} />
      <div class="page reading">
        {may.manage ? <a class="btn tall" href={href('beds', 'stocks', 'new')}>{t('stocks.new')}</a> : <p class="small">{t('stocks.owner')}</p>}
        {stocks.length === 0 && <p class="say">{t('stocks.none')}</p>}
        <ul class="rows">
          {stocks.map((stock) => <li key={stock.id}><StockLine stock={stock} standing={plants.get(stock.id) ?? 0} isProtected={protectedBehind(farm, stock) !== undefined} may={may.manage} /></li>)}
        </ul>
      </div>
    </>
  )
}

interface StockLineProps {
  readonly stock: Stock
  readonly standing: number
  /** By itself, or by what it came of. */
  readonly isProtected: boolean
  readonly may: boolean
}

function StockLine({ stock, standing, isProtected, may }: StockLineProps) {
  const about = [stock.species, stock.origin && t(`origin.${stock.origin}`)].filter(Boolean).join(' · ')
  const words = (
    <>
      <span>
        <b>{stock.name}</b>
        {about !== '' && <span class="small block">{about}</span>}
        {isProtected && <span class="small block protected">{t('stock.protected')}</span>}
      </span>
      <span class="small">{t('plants', { n: standing })}</span>
    </>
  )
  return may ? <a class="line plain" href={href('beds', 'stocks', stock.id)}>{words}</a> : <div class="line plain">{words}</div>
}

/** Plants that stand, by stock. */
function plantsByStock(farm: Farm): ReadonlyMap<StockID, number> {
  const standing = new Map<StockID, number>()
  for (const plant of farm.plants.values()) {
    const stock = farm.plantings.get(plant.planting)?.stock
    if (stock !== undefined && plant.removed === '') standing.set(stock, (standing.get(stock) ?? 0) + 1)
  }
  return standing
}

/** A new stock, or one that is changed. */
export function StockPage({ before }: { readonly before: Stock | undefined }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  // What differs from how it was opened is said, and not what another device has changed meanwhile.
  const [start] = useState(before)
  const [form, setForm] = useState<StockForm>(() => before ?? freshStock(farm))
  const [problem, setProblem] = useState('')
  const name = form.name.trim()
  const save = async (event: Event) => {
    event.preventDefault()
    if (name === '') return
    const told = { name, species: form.species.trim(), origin: form.origin, protected: form.protected }
    try {
      await notebook.record(start ? stockEdits(start, { ...start, ...told }) : stockFacts({ ...told, id: newUUID() as StockID, from: '' }))
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    announce(t('stock_form.saved', { name }))
    go('beds', 'stocks')
  }
  return (
    <>
      <PageHead title={before ? before.name : t('stocks.new')} back={href('beds', 'stocks')} />
      <form class="page reading tray" onSubmit={(event) => void save(event)}>
        <StockFields form={form} species={speciesOf(farm)} onChange={(change) => setForm((all) => ({ ...all, ...change }))} />
        {before?.protected && !form.protected && <p class="note warn">{t('stock_form.freed')}</p>}
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
        <button type="submit" class="btn main" disabled={name === ''}>{t('stock_form.save')}</button>
      </form>
    </>
  )
}
