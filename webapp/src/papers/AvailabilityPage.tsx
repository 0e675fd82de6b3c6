// What can be offered on the coming days, as a sheet, a message and a file.

import { signal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { addDays, parseDay } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import type { ChannelID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { available, daysFrom, inOrder } from './availability'
import { offeredPrice, type PriceOf } from './availability_price'
import { availabilitySettings, daysChoices, isBunch, readAvailabilitySettings, setAvailability } from './availability_settings'
import { AvailabilityFile } from './AvailabilityFile'
import { AvailabilityMessage } from './AvailabilityMessage'
import { AvailabilityPaper } from './AvailabilityPaper'
import { Paper, PrintButton } from '../ui/Paper'
import './papers.css'

/** No day is today. */
const first = signal<string | undefined>(undefined)
/** As it is typed, also while it is none. */
const typedBunch = signal<string | undefined>(undefined)

export function AvailabilityPage() {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  useEffect(() => readAvailabilitySettings(notebook), [])
  const { days, bunch, channel } = availabilitySettings.value
  const from = firstDay(first.value)
  const told = useMemo(() => available(farm, today.value, daysFrom(from ?? today.value, days), bunch), [farm.sales, farm.lots, today.value, from, days, bunch])
  const offers = inOrder(farm, told.offers)
  const priceOf = pricesFor(farm, may.manage ? channel : '', bunch)
  return (
    <div class="papers-page">
      <PageHead title={t('availability.title')} back={href('shed')} />
      <div class="page">
        <Which problem={from === undefined} />
        {told.short > 0 && <p class="note warn">{t('availability.short', { stems: t('stems', { n: told.short }) })}</p>}
        {told.past > 0 && <p class="note">{t('availability.past', { stems: t('stems', { n: told.past }) })}</p>}
        {offers.length === 0 ? <p class="note">{t('availability.none')}</p> : (
          <>
            <PrintButton />
            <AvailabilityMessage offers={offers} priceOf={priceOf} />
            <AvailabilityFile offers={offers} priceOf={priceOf} />
          </>
        )}
      </div>
      {offers.length > 0 && <Paper><AvailabilityPaper offers={offers} priceOf={priceOf} bunch={bunch} /></Paper>}
    </div>
  )
}

/** What was typed, where that is a day from today on. */
function firstDay(typed: string | undefined): Day | undefined {
  if (typed === undefined) return today.value
  const day = parseDay(typed)
  return day !== undefined && day >= today.value && day <= addDays(today.value, 60) ? day : undefined
}

/** undefined is without prices: none was asked for, or the channel has been deleted since. */
function pricesFor({ sales }: Farm, channel: ChannelID | '', bunch: number): PriceOf | undefined {
  if (channel === '' || !sales.channels.has(channel)) return undefined
  return (offer) => offeredPrice(sales, channel, offer, bunch)
}

function Which({ problem }: { readonly problem: boolean }) {
  const notebook = useNotebook()
  const may = useRights()
  const { days, bunch } = availabilitySettings.value
  const typed = typedBunch.value ?? String(bunch)
  const type = (text: string) => {
    typedBunch.value = text
    if (isBunch(Number(text))) void setAvailability(notebook, { bunch: Number(text) })
  }
  return (
    <>
      <div class="papers-filter">
        <label class="field">
          <span>{t('availability.from')}</span>
          <input type="date" value={first.value ?? today.value} min={today.value} onInput={(event) => { first.value = event.currentTarget.value }} />
        </label>
        <label class="field">
          <span>{t('availability.bunch')}</span>
          <input inputMode="numeric" value={typed} aria-invalid={!isBunch(Number(typed))} onInput={(event) => type(event.currentTarget.value)} />
        </label>
      </div>
      {problem && <p class="note stop" role="alert">{t('availability.from.wrong')}</p>}
      {!isBunch(Number(typed)) && <p class="note stop" role="alert">{t('availability.bunch.wrong', { n: bunch })}</p>}
      <Choice
        name={t('availability.days')} value={String(days)} onChoose={(n) => void setAvailability(notebook, { days: Number(n) })}
        options={daysChoices.map((n) => [String(n), t('availability.days.n', { n })] as const)}
      />
      {may.manage && <ChannelPrices />}
    </>
  )
}

function ChannelPrices() {
  const notebook = useNotebook()
  const { channels } = notebook.farm.value.sales
  const { channel } = availabilitySettings.value
  return (
    <label class="field">
      <span>{t('availability.prices')}</span>
      <select value={channels.has(channel as ChannelID) ? channel : ''} onChange={(event) => void setAvailability(notebook, { channel: event.currentTarget.value as ChannelID | '' })}>
        <option value="">{t('availability.prices.none')}</option>
        {[...channels.values()].map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  )
}
