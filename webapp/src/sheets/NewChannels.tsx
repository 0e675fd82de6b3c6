// Channels of a sheet that the farm does not have: each is one that it has under another name, or a new one of a kind.

import { type ChannelID, type ChannelKind, channelKinds } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { nameKey } from './plan'
import { type ChannelChoice, type ChannelChoices, readPercent } from './channel_choice'

interface NewChannelsProps {
  readonly names: readonly string[]
  readonly choices: ChannelChoices
  readonly onChoose: (name: string, choice: ChannelChoice | undefined) => void
}

export function NewChannels({ names, choices, onChoose }: NewChannelsProps) {
  if (names.length === 0) return null
  return (
    <fieldset class="match">
      <legend>{t('sheets.channels')}</legend>
      <p class="small">{t('sheets.channels.help')}</p>
      <div class="match-fields">{names.map((name) => <NewChannel key={nameKey(name)} name={name} choice={choices.get(nameKey(name))} onChoose={(choice) => onChoose(name, choice)} />)}</div>
    </fieldset>
  )
}

interface NewChannelProps {
  readonly name: string
  readonly choice: ChannelChoice | undefined
  readonly onChoose: (choice: ChannelChoice | undefined) => void
}

function NewChannel({ name, choice, onChoose }: NewChannelProps) {
  const there = [...useNotebook().farm.value.sales.channels.values()].sort((a, b) => a.name.localeCompare(b.name))
  const value = choice === undefined ? '' : 'channel' in choice ? `channel ${choice.channel}` : `kind ${choice.kind}`
  const choose = (text: string) => {
    const [what, of = ''] = [text.slice(0, text.indexOf(' ')), text.slice(text.indexOf(' ') + 1)]
    onChoose(text === '' ? undefined : what === 'channel' ? { channel: of as ChannelID } : { kind: of as ChannelKind, percent: choice && 'percent' in choice ? choice.percent : '' })
  }
  return (
    <div>
      <label class="field">
        <span>{t('sheets.channels.of', { name })}</span>
        <select value={value} onChange={(event) => choose(event.currentTarget.value)}>
          <option value="">{t('sheets.channels.choose')}</option>
          {there.length > 0 && <optgroup label={t('sheets.channels.there')}>{there.map(({ id, name: its }) => <option key={id} value={`channel ${id}`}>{its}</option>)}</optgroup>}
          <optgroup label={t('sheets.channels.new')}>{channelKinds.map((kind) => <option key={kind} value={`kind ${kind}`}>{t(`orders.channel.kind.${kind}`)}</option>)}</optgroup>
        </select>
      </label>
      {choice && 'kind' in choice && (
        <label class="field">
          <span>{t('sheets.channels.keeps', { name })}</span>
          <input inputMode="decimal" autocomplete="off" maxLength={6} placeholder="0" value={choice.percent} onInput={(event) => onChoose({ ...choice, percent: event.currentTarget.value })} />
        </label>
      )}
      {choice && 'kind' in choice && readPercent(choice.percent) === undefined && <p class="note warn">{t('sheets.channels.percent')}</p>}
    </div>
  )
}
