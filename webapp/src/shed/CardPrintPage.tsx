// Printing colour cards: each printing is a batch of its own, whose code this device makes and the farm keeps.

import { useState } from 'preact/hooks'
import { cardFacts } from '../crop/facts'
import type { CardID } from '../crop/nouns'
import { shownBatch } from '../crop/tag_code'
import { hasMessage, language, t, tCode } from '../messages/messages'
import { inReach } from '../sync/reach'
import { Choice } from '../ui/Choice'
import { download } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { keptPaper, type Paper, papers, usualPaper } from '../ui/paper'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { cardsPerSheet, newBatch } from './cards'
import { printCards } from './print_cards'

const sheetChoices = ['1', '2', '3', '5'] as const

export function CardPrintPage() {
  return (
    <>
      <PageHead title={t('cards.print')} back={href('shed', 'cards')} />
      <div class="page">
        <div class="columns">
          <Printing />
          <HowTo />
        </div>
      </div>
    </>
  )
}

function Printing() {
  const notebook = useNotebook()
  const reached = inReach(notebook.sync.value)
  const [paper, setPaper] = useState<Paper>(notebook.kept<Paper>(keptPaper) ?? usualPaper(navigator.languages))
  const [sheets, setSheets] = useState<(typeof sheetChoices)[number]>('1')
  const [asked, setAsked] = useState(false)
  const [printed, setPrinted] = useState<CardID | undefined>(undefined)
  const [problem, setProblem] = useState('')
  const usePaper = (one: Paper) => {
    setPaper(one)
    void notebook.keep(keptPaper, one)
  }
  const print = async () => {
    setAsked(true)
    setProblem('')
    const batch = newBatch(notebook.farm.peek())
    const made = await printCards({ batch, paper, language: language.peek(), sheets: Number(sheets) })
    setAsked(false)
    if (!(made instanceof Blob)) return setProblem(failed(made))
    try {
      await notebook.record(cardFacts({ id: batch, printed: today.peek() }))
    } catch (reason) {
      return setProblem(failureText(reason)) // a card of which the farm knows nothing is not handed out
    }
    download(made, `card-${batch}.pdf`)
    setPrinted(batch)
  }
  return (
    <div>
      <Choice name={t('tags.paper')} value={paper} onChoose={usePaper} options={papers.map((one) => [one, t(`tags.paper.${one}`)] as const)} />
      <Choice name={t('cards.print.sheets')} value={sheets} onChoose={setSheets} options={sheetChoices.map((n) => [n, n] as const)} />
      <Say text={t('cards.print.say', { n: Number(sheets) * cardsPerSheet[paper] })} />
      {reached
        ? <button type="button" class="btn main" disabled={asked} onClick={() => void print()}><Icon name="save" />{t(asked ? 'cards.print.drawing' : 'cards.print.do')}</button>
        : <p class="note warn">{t('cards.print.offline')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div role="status">
        {printed !== undefined && (
          <div class="note">
            <p>{t('cards.print.done', { batch: shownBatch(printed) })}</p>
            <a class="btn" href={href('shed', 'cards', printed)}>{t('cards.print.to_batch', { batch: shownBatch(printed) })}</a>
          </div>
        )}
      </div>
    </div>
  )
}

function failed(code: string): string {
  const key = `cards.print.failed.${code}`
  return tCode(hasMessage(key) ? key : 'cards.print.failed.other', {})
}

/** The same as stands on the page that is printed with the cards: what must be known before they are. */
function HowTo() {
  return (
    <section class="card">
      <h2>{t('cards.how_to')}</h2>
      <ul class="card-how-to">
        {(['paper', 'size', 'colours', 'dry', 'keep'] as const).map((one) => <li key={one}>{t(`cards.how_to.${one}`)}</li>)}
      </ul>
    </section>
  )
}
