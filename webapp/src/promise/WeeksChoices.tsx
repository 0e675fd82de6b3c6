// For how many weeks is offered, tied by which rules, and with whose prices.

import type { BunchID, ChannelID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { qualityText } from '../ui/sale_words'
import type { OfferRule } from './weeks_offers'
import { setWeeks, weeksChoices, weeksSettings } from './weeks_settings'

export function WeeksChoices({ rules }: { readonly rules: readonly OfferRule[] }) {
  const notebook = useNotebook()
  const may = useRights()
  const { weeks } = weeksSettings.value
  const none = rules.every(({ id }) => id === '')
  return (
    <>
      <Choice
        name={t('weeks.weeks')} value={String(weeks)} onChoose={(n) => void setWeeks(notebook, { weeks: Number(n) })}
        options={weeksChoices.map((n) => [String(n), t('weeks.weeks.n', { n })] as const)}
      />
      {none ? <p class="note">{t('weeks.rules.none')} {may.manage && <a href={href('shed', 'orders', 'bunches')}>{t('weeks.rules.write')}</a>}</p> : <Rules rules={rules} />}
      {may.manage && <ChannelPrices />}
    </>
  )
}

function Rules({ rules }: { readonly rules: readonly OfferRule[] }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const { without } = weeksSettings.value
  const toggle = (id: BunchID | '') => void setWeeks(notebook, { without: without.includes(id) ? without.filter((one) => one !== id) : [...without, id] })
  return (
    <fieldset class="field">
      <legend>{t('weeks.rules')}</legend>
      {rules.map((rule) => (
        <label key={rule.id} class="switch">
          <input type="checkbox" checked={!without.includes(rule.id)} onChange={() => toggle(rule.id)} />
          <span>{t('weeks.rule', { name: rule.name, n: rule.stems })}<span class="small block">{qualityText(farm, rule)}</span></span>
        </label>
      ))}
    </fieldset>
  )
}

function ChannelPrices() {
  const notebook = useNotebook()
  const { channels } = notebook.farm.value.sales
  const { channel } = weeksSettings.value
  if (channels.size === 0) return null
  return (
    <label class="field">
      <span>{t('availability.prices')}</span>
      <select value={channels.has(channel as ChannelID) ? channel : ''} onChange={(event) => void setWeeks(notebook, { channel: event.currentTarget.value as ChannelID | '' })}>
        <option value="">{t('availability.prices.none')}</option>
        {[...channels.values()].map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  )
}
