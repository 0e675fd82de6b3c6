// What the farm is called.

import { useState } from 'preact/hooks'
import { farmFacts } from '../crop/facts'
import type { Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import type { Fact } from '../log/change'

interface FarmNameProps {
  readonly farm: Farm
  readonly onSet: (facts: readonly Fact[]) => void
}

export function FarmName({ farm, onSet }: FarmNameProps) {
  const [text, setText] = useState(farm.name)
  const name = text.trim()
  const save = (event: Event) => {
    event.preventDefault()
    // The name alone: the rest may be changed at the same time on another device.
    onSet(farmFacts({ ...farm, name }).filter(({ field }) => field === 'name'))
  }
  return (
    <form class="person-form" onSubmit={save}>
      <label class="field">
        <span>{t('settings.name')}</span>
        <input value={text} maxLength={80} autocomplete="organization" onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <button type="submit" class="btn" disabled={name === '' || name === farm.name}>{t('settings.name.save')}</button>
    </form>
  )
}
