// One device: when the shed last heard of it, what it holds unsent, and withdrawing it.

import { useState } from 'preact/hooks'
import { problemText } from '../join/problem'
import { type JoinedDevice, withdraw } from '../join/roster'
import { momentName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'

interface DeviceLineProps {
  readonly of: JoinedDevice
  readonly onChanged: () => void
}

export function DeviceLine({ of, onChanged }: DeviceLineProps) {
  const [asking, setAsking] = useState(false)
  const here = useNotebook().device === of.device
  return (
    <li>
      <div class="undoable">
        <div>
          <p><b>{of.label || t('kind.other')}</b>{here && <span class="small"> {t('devices.here')}</span>}</p>
          <p class="small">{seenText(of)}</p>
          {of.withdrawn > 0 && <p class="small">{t('devices.withdrawn.again')}</p>}
          {of.withdrawn === 0 && of.seen > 0 && <p class="small">{unsentText(of)}</p>}
        </div>
        {!here && of.withdrawn === 0 && !asking && (
          <button type="button" class="btn" onClick={() => setAsking(true)}>
            {t('withdraw')}<span class="unseen"> {of.label}, {of.name}</span>
          </button>
        )}
      </div>
      {asking && <Withdrawing of={of} onDone={() => { setAsking(false); onChanged() }} />}
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

function Withdrawing({ of, onDone }: { readonly of: JoinedDevice; readonly onDone: () => void }) {
  const [problem, setProblem] = useState('')
  const go = async () => {
    const answer = await withdraw(of.device)
    if (answer.kind !== 'ok') return setProblem(problemText(answer))
    announce(t('withdraw.done', { label: of.label, name: of.name }))
    onDone()
  }
  return (
    <div class="note warn">
      <p>{t('withdraw.sure', { label: of.label, name: of.name })}</p>
      <p>{t('withdraw.keeps')}</p>
      {of.unsent !== 0 && <p><b>{of.unsent === undefined ? t('withdraw.untold') : t('withdraw.unsent', { n: of.unsent })}</b></p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        <button type="button" class="btn" onClick={() => void go()}>{t('withdraw.yes')}</button>
      </div>
    </div>
  )
}
