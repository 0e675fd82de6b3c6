// One device: when the shed last heard of it, what it holds unsent, and withdrawing it.

import { useState } from 'preact/hooks'
import { type JoinedDevice, withdraw } from '../join/roster'
import { momentName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Withdrawing } from './Withdrawing'

interface DeviceLineProps {
  readonly of: JoinedDevice
  readonly onChanged: () => void
}

export function DeviceLine({ of, onChanged }: DeviceLineProps) {
  const [asking, setAsking] = useState(false)
  const here = useNotebook().device === of.device
  const named = { label: of.label || t('kind.other'), name: of.name || t('devices.nameless') }
  return (
    <li>
      <div class="undoable">
        <div>
          <p><b>{named.label}</b>{here && <span class="small"> {t('devices.here')}</span>}</p>
          <p class="small">{seenText(of)}</p>
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

function seenText({ withdrawn, connected, seen }: JoinedDevice): string {
  if (withdrawn > 0) return t('devices.withdrawn', { when: momentName(withdrawn) })
  if (connected) return t('devices.connected')
  return seen > 0 ? t('devices.seen', { when: momentName(seen) }) : t('devices.unseen')
}

function unsentText({ unsent, connected }: JoinedDevice): string {
  if (unsent === undefined) return t('devices.unsent.untold')
  if (unsent === 0) return t(connected ? 'devices.unsent.none' : 'devices.unsent.none.then')
  return t(connected ? 'devices.unsent' : 'devices.unsent.then', { n: unsent })
}

function heldText({ unsent }: JoinedDevice): string {
  if (unsent === undefined) return t('withdraw.untold')
  return unsent === 0 ? '' : t('withdraw.unsent', { n: unsent })
}
