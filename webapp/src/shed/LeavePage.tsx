// Leaving the farm with this device: what then stays here, what the shed does not have, and that an owner
// has to let it in again.

import { useState } from 'preact/hooks'
import { leave } from '../join/door'
import { problemText } from '../join/problem'
import { t } from '../messages/messages'
import { inReach } from '../sync/reach'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SaveUnsent, useUnsent } from '../ui/SaveUnsent'

export function LeavePage() {
  const notebook = useNotebook()
  const farm = notebook.farm.value.name || t('other_farm.unnamed')
  const out = notebook.barred.value !== undefined
  const [left, setLeft] = useState(false)
  return (
    <>
      <PageHead title={t('leave')} back={href('shed', 'settings')} />
      <div class="page reading">
        {left && <p class="say" role="status">{t('leave.done', { farm })}</p>}
        {!left && out && <p class="say">{t('leave.out')}</p>}
        {!left && !out && <p class="say">{t('leave.what', { farm })}</p>}
        <OnlyHere />
        {left || out
          ? <a class="btn" href={href('join')}>{t('join.again')}</a>
          : <Leaving reached={inReach(notebook.sync.value)} onLeft={() => { setLeft(true); notebook.tryAgain() }} />}
      </div>
    </>
  )
}

/** What would be on this device alone, and how it can be saved. */
function OnlyHere() {
  const notebook = useNotebook()
  const { entries, photos } = useUnsent(notebook)
  if (entries + photos.count === 0) return <p>{t('leave.nothing')}</p>
  return (
    <section class="card">
      {entries > 0 && <p class="note warn">{t('leave.entries', { n: entries })}</p>}
      {photos.count > 0 && <p class="note warn">{t('leave.photos', { n: photos.count })}</p>}
      <p>{t('leave.first')}</p>
      <SaveUnsent notebook={notebook} />
    </section>
  )
}

interface LeavingProps {
  /** This farm's own shed: another may stand at the address, and is not to be left instead. */
  readonly reached: boolean
  readonly onLeft: () => void
}

function Leaving({ reached, onLeft }: LeavingProps) {
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState('')
  const go = async () => {
    if (busy) return
    setBusy(true)
    setProblem('')
    const answer = await leave()
    setBusy(false)
    if (answer.kind === 'ok') onLeft()
    else setProblem(problemText(answer))
  }
  return (
    <>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      {!reached && <p class="note" role="status">{t('leave.reach')}</p>}
      <div class="buttons">
        <a class="btn" href={href('shed', 'settings')}>{t('leave.stay')}</a>
        <button type="button" class="btn" disabled={!reached} aria-disabled={busy} onClick={() => void go()}>{t('leave.yes')}</button>
      </div>
    </>
  )
}
