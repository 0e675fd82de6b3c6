// A price that is new, changed or taken away; the next step down of a season is one tap further.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { addDays, parseDay } from '../crop/day'
import { changing, type Deed, together } from '../crop/deed'
import { withdrawnFact } from '../crop/facts'
import type { ColourID } from '../crop/nouns'
import { belowFloor, channelOf, floorOf } from '../crop/price_of'
import { priceFacts } from '../crop/sale_facts'
import type { BunchID, Cents, ChannelID, Price, PriceID } from '../crop/sale_nouns'
import { weekOf } from '../crop/week'
import { t } from '../messages/messages'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { qualityText } from '../ui/sale_words'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { ColourPick } from './ColourPick'
import { doDeed } from './deeds'
import { type PriceForm, type PriceProblem, readPriceForm } from './forms'
import { amountTyped } from './numbers'
import { type ListOf } from './price_list'
import { lineWarningText } from './warning_words'

interface PriceFormPageProps {
  readonly before: Price | undefined
  readonly of: ListOf
}

export function PriceFormPage({ before: asked, of }: PriceFormPageProps) {
  const [before] = useState(asked)
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { sales } = farm
  const list = 'buyer' in of ? { buyer: of.buyer, channel: sales.buyers.get(of.buyer)?.channel ?? ('' as ChannelID) } : { buyer: '' as const, channel: of.channel }
  const bunches = [...sales.bunches.values()].sort((a, b) => a.name.localeCompare(b.name))
  const [form, setForm] = useState<PriceForm>(() => (before
    ? { channel: before.channel, buyer: before.buyer, bunch: before.bunch, from: before.from, amount: amountTyped(before.cents) }
    : { ...list, bunch: (bunches.length === 1 ? bunches[0]!.id : '') as BunchID, from: today.peek(), amount: '' }))
  const [colours, setColours] = useState<readonly ColourID[]>(before && before.colour !== '' ? [before.colour] : [])
  const [problems, setProblems] = useState<readonly PriceProblem[]>([])
  const [failure, setFailure] = useState('')
  const back = 'buyer' in of ? ['prices', 'buyer', of.buyer] : ['prices', 'channel', of.channel]
  const tell = (part: Partial<PriceForm>) => {
    setForm((all) => ({ ...all, ...part }))
    setProblems([])
  }
  const read = readPriceForm(form)
  const act = async (deed: Deed, said: string, then: () => void) => {
    try {
      await doDeed(notebook, deed, said)
      then()
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  const save = (then: () => void) => {
    if ('problems' in read) return setProblems(read.problems)
    const said = t('orders.price.saved', { price: amount(read.price.cents, sales.terms.currency) })
    if (before) return void act(changing(priceFacts(before), priceFacts({ ...read.price, id: before.id, colour: colours[0] ?? '' })), said, then)
    void act(together(...(colours.length === 0 ? ['' as const] : colours).map((colour) => newPrice(sales.prices.values(), { ...read.price, id: newUUID() as PriceID, colour }))), said, then)
  }
  const from = parseDay(form.from)
  const step = () => save(() => tell({ from: addDays(from ?? today.peek(), 7), amount: '' }))
  const gone: Deed = { facts: [withdrawnFact('price', before?.id ?? '', true, 'money')], undo: [withdrawnFact('price', before?.id ?? '', false, 'money')] }
  const chosen = sales.bunches.get(form.bunch)
  const channel = form.buyer === '' ? sales.channels.get(form.channel) : channelOf(sales, form.buyer)
  const floor = channel && chosen ? floorOf(channel, chosen.grade) : (0 as Cents)
  return (
    <>
      <PageHead title={t(before ? 'orders.price.one' : 'orders.price.new')} back={href('shed', 'orders', ...back)} />
      <form class="page orders reading" noValidate onSubmit={(event) => { event.preventDefault(); save(() => go('shed', 'orders', ...back)) }}>
        <p>{'buyer' in of ? t('orders.prices.of_buyer', { name: sales.buyers.get(of.buyer)?.name ?? '' }) : t('orders.prices.of_channel', { name: sales.channels.get(of.channel)?.name ?? '' })}</p>
        {bunches.length === 0 && <p class="note">{t('orders.rules.none')} <a href={href('shed', 'orders', 'bunches', 'new')}>{t('orders.rule.new')}</a></p>}
        <fieldset class="field">
          <legend>{t('orders.line.rule')}</legend>
          <div class="choices">
            {bunches.map((one) => (
              <button key={one.id} type="button" class="btn rule" aria-pressed={form.bunch === one.id} onClick={() => tell({ bunch: one.id })}>
                {one.name}<span class="small">{[t('orders.stems', { n: one.stems }), qualityText(farm, one)].filter((part) => part !== '').join(', ')}</span>
              </button>
            ))}
          </div>
        </fieldset>
        <ColourPick farm={farm} label={t(before ? 'orders.price.colour' : 'orders.price.colours')} chosen={colours} none={t('orders.price.any')} onChoose={(all) => setColours(before ? all.slice(-1) : all)} />
        <div class="two-fields">
          <label class="field">
            <span>{from ? t('orders.price.since.week', { n: String(weekOf(from).number) }) : t('orders.price.since')}</span>
            <input type="date" value={form.from} onInput={(event) => tell({ from: event.currentTarget.value })} />
          </label>
          <label class="field">
            <span>{sales.terms.currency === '' ? t('orders.price.amount') : t('orders.price.amount.in', { currency: sales.terms.currency })}</span>
            <input inputMode="decimal" autocomplete="off" maxLength={12} value={form.amount} onInput={(event) => tell({ amount: event.currentTarget.value })} />
          </label>
        </div>
        <p class="small">{t('orders.price.since.none')}</p>
        {'price' in read && chosen && floor > 0 && belowFloor(read.price.cents, floor, chosen.stems) && (
          <p class="note warn">{lineWarningText(farm, { kind: 'floor', price: read.price.cents, floor, stems: chosen.stems, grade: chosen.grade || 'second' })}</p>
        )}
        {before && <button type="button" class="btn" onClick={() => void act(gone, t('orders.price.gone'), () => go('shed', 'orders', ...back))}>{t('orders.price.delete')}</button>}
        <div class="sale-do">
          {problems.map((one) => <p key={one} class="note stop" role="alert">{t(`orders.price.problem.${one}`)}</p>)}
          {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
          {!before && <button type="button" class="btn" onClick={step}>{t('orders.price.next')}</button>}
          <button type="submit" class="btn main">{t('orders.save')}</button>
        </div>
      </form>
    </>
  )
}

/** A price of the same list, rule, colour and day is changed and not set beside the new one. */
function newPrice(all: Iterable<Price>, price: Price): Deed {
  for (const one of all) {
    const same = one.buyer === price.buyer && one.bunch === price.bunch && one.colour === price.colour && one.from === price.from && (price.buyer !== '' || one.channel === price.channel)
    if (same) return changing(priceFacts(one), priceFacts({ ...price, id: one.id }))
  }
  return { facts: priceFacts(price), undo: [withdrawnFact('price', price.id, true, 'money')] }
}
