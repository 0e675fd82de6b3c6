// Joining a farm: the code of an invitation, what came of it, and what then has to be known.

import { useEffect, useState } from 'preact/hooks'
import type { Member } from '../crop/member'
import { t } from '../messages/messages'
import type { Door, Entered } from '../sync/door'
import type { Barred, Notebook } from '../sync/notebook'
import { href } from '../ui/route'
import { SaveUnsent, useUnsent } from '../ui/SaveUnsent'
import { Welcome } from '../ui/Welcome'
import { failureText } from '../ui/words'
import { CodeForm } from './CodeForm'
import { join } from './door'
import { InstallFirst } from './InstallFirst'
import { Joined } from './Joined'
import './join.css'
import { installsFirst, thisBrowser } from './kind'
import { broughtCode } from './link'
import { OtherFarm } from './OtherFarm'
import { problemText } from './problem'

interface JoinPageProps {
  readonly door: Door
  readonly device: string
  /** Why the shed does not let it in; undefined where a person came here of their own accord. */
  readonly why: Barred | undefined
  /** The device kept a farm, and the browser has deleted it. */
  readonly emptied?: boolean
  /** What the device holds already. */
  readonly notebook?: Notebook
  readonly onDone: () => void
}

type Step =
  | { readonly kind: 'code' }
  /** Joined a farm of which this device holds nothing yet, or the one it holds. */
  | { readonly kind: 'joined'; readonly entered: Entered }
  | { readonly kind: 'other_farm'; readonly entered: Entered }

export function JoinPage({ door, device, why, emptied, notebook, onDone }: JoinPageProps) {
  const [step, setStep] = useState<Step>({ kind: 'code' })
  const [anyway, setAnyway] = useState(false)
  const came = async (entered: Entered) => {
    if (notebook && entered.member.farm !== notebook.farm.peek().id) return setStep({ kind: 'other_farm', entered })
    await notebook?.joined(entered)
    // A farm's first owner has no name yet and is asked for it at once: there is nothing else to say.
    if (isFirstOwner(entered.member)) onDone()
    else setStep({ kind: 'joined', entered })
  }
  // Another farm's shed stands at this address, and may know this device already.
  useEffect(() => {
    if (notebook?.sync.peek().refusal !== 'farm') return
    void door.enter(device).then((entry) => { if (entry.kind === 'member') void came(entry) })
  }, [])

  if (step.kind === 'joined') return <Joined member={step.entered.member} onDone={onDone} />
  if (step.kind === 'other_farm' && notebook) {
    return <OtherFarm notebook={notebook} entered={step.entered} onStay={() => { setStep({ kind: 'code' }); onDone() }} />
  }
  if (!anyway && installsFirst(thisBrowser())) return <InstallFirst code={broughtCode.value} onAnyway={() => setAnyway(true)} />
  return (
    <Welcome title={t('join.title')}>
      <Why why={why} emptied={emptied ?? false} {...(notebook && { notebook })} />
      {anyway && <p class="note warn">{t('install.anyway.caution')}</p>}
      <AskCode device={device} onEntered={came} />
      {notebook && notebook.sync.value.levelAt > 0 && <a class="btn quiet" href={href('shed')}>{t('join.not_now')}</a>}
    </Welcome>
  )
}

function isFirstOwner({ name, farmName, role }: Member): boolean {
  return role === 'owner' && name === '' && farmName === ''
}

interface WhyProps {
  readonly why: Barred | undefined
  readonly emptied: boolean
  readonly notebook?: Notebook
}

/** Why one is here, and that what the device holds is safe. */
function Why({ why, emptied, notebook }: WhyProps) {
  const member = notebook?.member.value
  return (
    <>
      {why === 'withdrawn' && <p class="note stop">{t('join.withdrawn')}</p>}
      {emptied && <p class="note warn">{t('join.emptied')}</p>}
      {why !== undefined && notebook && <OnlyHere notebook={notebook} />}
      {why === undefined && member && <p class="note">{t('join.already', { name: member.name })}</p>}
    </>
  )
}

/** Who has no invitation yet, or never will, can still save it. */
function OnlyHere({ notebook }: { readonly notebook: Notebook }) {
  const { entries, photos } = useUnsent(notebook)
  return (
    <>
      {entries > 0 && <p class="note">{t('join.unsent', { n: entries })}</p>}
      {photos.count > 0 && <p class="note">{t('join.photos', { n: photos.count })}</p>}
      <SaveUnsent notebook={notebook} />
    </>
  )
}

interface AskCodeProps {
  readonly device: string
  readonly onEntered: (entered: Entered) => Promise<void>
}

function AskCode({ device, onEntered }: AskCodeProps) {
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState('')
  const send = async (code: string, label: string) => {
    setBusy(true)
    setProblem('')
    const answer = await join(code, device, label)
    if (answer.kind === 'ok') {
      broughtCode.value = ''
      // The shed has let it in: what fails now is this device's storage.
      await onEntered(answer.value).catch((reason: unknown) => setProblem(failureText(reason)))
    } else {
      setProblem(problemText(answer))
    }
    setBusy(false) // not before: the code is used up by now
  }
  return <CodeForm brought={broughtCode.value} busy={busy} problem={problem} onSend={(code, label) => void send(code, label)} />
}
