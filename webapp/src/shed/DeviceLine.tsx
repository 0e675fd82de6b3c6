// One device: when the shed last heard of it, what it holds unsent, and withdrawing it.

import { useState } from 'preact/hooks'
import { type JoinedDevice, withdraw } from '../join/roster'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { forgottenText, heldText, seenText, unsentText } from './device_words'
import { Withdrawing } from './Withdrawing'

interface DeviceLineProps {
  readonly of: JoinedDevice
  readonly onChanged: () => void
}

export function DeviceLine({ of, onChanged }: DeviceLineProps) {
  const [asking, setAsking] = useState(false)
  const here = useNotebook().device === of.device
  const forgotten = forgottenText(of)
  const named = { label: of.label || t('kind.other'), name: of.name || t('devices.nameless') }
  return (
    <li>
      <div class="undoable">
        <div>
          <p><b>{named.label}</b>{here && <span class="small"> {t('devices.here')}</span>}</p>
          <p class="small">{seenText(of)}</p>
          {forgotten !== '' && <p class="small"><b>{forgotten}</b></p>}
          {of.withdrawn === 0 && of.seen > 0 && <p class="small">{unsentText(of)}</p>}
        </div>
        {!here && of.withdrawn === 0 && (
          <button type="button" class="btn" aria-expanded={asking} onClick={() => setAsking(!asking)}>
            {t('withdraw')}<span class="unseen"> {named.label}, {named.name}</span>
          </button>
        )}
      </div>
      {asking && (
        <Withdrawing
          sure={t('withdraw.sure', named)} keeps={t('withdraw.keeps')} unsent={heldText(of)} yes={t('withdraw.yes')} done={t('withdraw.done', named)}
          withdraw={() => withdraw(of.device)} onCancel={() => setAsking(false)} onDone={() => { setAsking(false); onChanged() }}
        />
      )}
    </li>
  )
}
