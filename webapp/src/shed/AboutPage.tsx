// About: what Corymb is, which version the shed runs, and what it is made of, each under its licence.

import { useEffect, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { type About, askAbout, askTexts, type Dependency } from './about'

/** What the shed told, while it is asked, and where it did not answer. */
type Told<T> = T | 'asking' | 'silent'

export function AboutPage() {
  const live = useNotebook().sync.value.link === 'live'
  const [about, setAbout] = useState<Told<About>>('asking')
  useEffect(() => {
    let gone = false
    void askAbout().then((said) => { if (!gone) setAbout(said ?? 'silent') })
    return () => { gone = true }
  }, [live])
  return (
    <>
      <PageHead title={t('about.title')} back={href('shed', 'settings')} />
      <div class="page">
        <p class="say reading">{t('about.what')}</p>
        <div class="columns">
          <div>
            <Program about={about} />
            <section class="card">
              <h2>{t('about.terms')}</h2>
              <p>{t('about.warranty')}</p>
              <p>{t('about.own')}</p>
            </section>
          </div>
          <div>{typeof about === 'object' && <MadeOf dependencies={about.dependencies} />}</div>
        </div>
      </div>
    </>
  )
}

function Program({ about }: { readonly about: Told<About> }) {
  if (about === 'asking') return <p class="small" role="status">{t('loading')}</p>
  if (about === 'silent') return <p class="note" role="status">{t('about.silent')}</p>
  return (
    <section class="card">
      <h2>{t('about.program')}</h2>
      <dl class="facts">
        <dt>{t('about.version')}</dt><dd>{about.version}</dd>
        <dt>{t('about.compiler')}</dt><dd>{about.go}</dd>
        <dt>{t('about.database')}</dt><dd>{`SQLite ${about.sqlite}`}</dd>
        <dt>{t('about.driver')}</dt><dd>{about.driver}</dd>
      </dl>
    </section>
  )
}

function MadeOf({ dependencies }: { readonly dependencies: readonly Dependency[] }) {
  const [texts, setTexts] = useState<Told<ReadonlyMap<string, string>> | undefined>(undefined)
  const fetchTexts = async () => {
    if (texts === 'asking' || typeof texts === 'object') return
    setTexts('asking')
    setTexts(await askTexts() ?? 'silent')
  }
  return (
    <section class="card">
      <h2>{t('about.made_of')}</h2>
      <p class="small">{t('about.made_of.note')}</p>
      <ul class="rows">
        {dependencies.map((one) => (
          <li key={one.name}>
            <Part of={one} text={typeof texts === 'object' ? texts.get(one.name) ?? 'silent' : texts} onOpen={() => void fetchTexts()} />
          </li>
        ))}
      </ul>
    </section>
  )
}

interface PartProps {
  readonly of: Dependency
  readonly text: Told<string> | undefined
  readonly onOpen: () => void
}

function Part({ of: { name, version, licence }, text, onOpen }: PartProps) {
  const [open, setOpen] = useState(false)
  const toggled = (now: boolean) => {
    setOpen(now)
    if (now) onOpen()
  }
  return (
    <details class="licence" onToggle={(event) => toggled(event.currentTarget.open)}>
      <summary>
        <span><b>{name}</b> <span class="small">{version}</span></span>
        <span>{licence === 'see text' ? t('about.see_text') : licence}</span>
      </summary>
      {open && <Licence told={text} />}
    </details>
  )
}

function Licence({ told }: { readonly told: Told<string> | undefined }) {
  if (told === undefined || told === 'asking') return <p class="small" role="status">{t('loading')}</p>
  if (told === 'silent') return <p class="note" role="status">{t('about.text.silent')}</p>
  return <pre lang="en">{told}</pre>
}
