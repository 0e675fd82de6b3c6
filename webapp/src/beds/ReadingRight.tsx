// Putting a reading right: how open the head was, in what light, or that it was measured by mistake; and its history.

import { useState } from 'preact/hooks'
import { readingCorrected, withdrawnFact } from '../crop/facts'
import type { Farm, Light, Reading, Stage } from '../crop/nouns'
import { StageAndLight } from '../measuring/StageAndLight'
import { surenessText } from '../measuring/words'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { readingLines } from './reading_history'

interface ReadingRightProps {
  readonly farm: Farm
  readonly reading: Reading
  /** Whoever may write at all: what is put right is on the photo for everybody to see. */
  readonly mayCorrect: boolean
  /** Called once the reading is withdrawn and therefore gone from the farm. */
  readonly onWithdrawn: (reading: Reading) => void
}

export function ReadingRight({ farm, reading, mayCorrect, onWithdrawn }: ReadingRightProps) {
  const [open, setOpen] = useState(false)
  const day = dayName(reading.date, today.value)
  return (
    <details class="reading-right" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{t(mayCorrect ? 'reading.right' : 'history')}<span class="unseen"> {t('reading.of', { day })}</span></summary>
      {open && <History farm={farm} reading={reading} />}
      {open && mayCorrect && <Correct reading={reading} onWithdrawn={onWithdrawn} />}
    </details>
  )
}

function History({ farm, reading }: { readonly farm: Farm; readonly reading: Reading }) {
  const lines = readingLines(farm, useNotebook().history('reading', reading.id))
  return (
    <div class="visit-history">
      <p class="small">{surenessText(reading.lab, reading.se)}</p>
      <ol>{lines.map(({ text, who }, i) => <li key={i}>{text}<span class="small block">{who}</span></li>)}</ol>
      {lines.length > 1 && <p class="small">{t('reading.history.note')}</p>}
    </div>
  )
}

function Correct({ reading, onWithdrawn }: Pick<ReadingRightProps, 'reading' | 'onWithdrawn'>) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const say = async (told: { readonly stage?: Stage; readonly light?: Light }, word: string) => {
    try {
      await notebook.record(readingCorrected(reading.id, told))
      setProblem('')
      announce(t('reading.kept', { word }))
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  const withdraw = async () => {
    try {
      await notebook.record([withdrawnFact('reading', reading.id, true)])
      announce(withdrawnText(reading))
      onWithdrawn(reading)
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <>
      <StageAndLight
        stage={reading.stage || undefined} light={reading.light || undefined} asBefore={false}
        onStage={(stage) => void say({ stage }, t(`measuring.stage.${stage}`))} onLight={(light) => void say({ light }, t(`measuring.light.${light}`))}
      />
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <button type="button" class="btn" onClick={() => void withdraw()}>{t('reading.mistake')}</button>
    </>
  )
}

function withdrawnText({ date, photo }: Pick<Reading, 'date' | 'photo'>): string {
  return t(photo === '' ? 'reading.withdrawn.bare' : 'reading.withdrawn', { day: dayName(date, today.peek()) })
}

interface WithdrawnReadingProps {
  readonly reading: Reading
  readonly onRestored: () => void
}

/** That a reading was withdrawn, for as long as it can be brought back here. */
export function WithdrawnReading({ reading, onRestored }: WithdrawnReadingProps) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const restore = async () => {
    try {
      await notebook.record([withdrawnFact('reading', reading.id, false)])
      announce(t('reading.restored', { day: dayName(reading.date, today.peek()) }))
      onRestored()
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <div class="note undoable">
      <p role={problem === '' ? undefined : 'alert'}>{problem || withdrawnText(reading)}</p>
      <button type="button" class="btn" onClick={() => void restore()}>{t('undo')}</button>
    </div>
  )
}
