// Scanning a tag: the camera or a photo, and what came of it where that is not one plant.

import { useEffect, useRef, useState } from 'preact/hooks'
import type { Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { alarmFeedback, foundFeedback } from '../ui/feedback'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { openReader } from './decode'
import { plantsOf } from './match'
import type { Reader } from './reader'
import './scan.css'
import { SeveralPlants } from './SeveralPlants'
import { StillPhoto } from './StillPhoto'
import { Viewfinder } from './Viewfinder'

interface ScanViewProps {
  readonly back: string
  /** The plant whose tag was read, once: it was told, and what follows is another page's. */
  readonly onPlant: (plant: Plant) => void
}

/** What was read that is not one plant. */
interface Other {
  readonly text: string
  readonly plants: readonly Plant[]
}

export function ScanView({ back, onPlant }: ScanViewProps) {
  const notebook = useNotebook()
  const [other, setOther] = useState<Other | undefined>(undefined)
  const isNew = useNewness()
  const reader = useReader()
  const take = (plant: Plant) => {
    announce(t('scan.found', { code: plant.code }))
    foundFeedback()
    onPlant(plant)
  }
  const look = (text: string) => {
    const plants = plantsOf(notebook.farm.peek(), text)
    const [first] = plants
    if (first && plants.length === 1) return take(first)
    alarmFeedback()
    setOther({ text, plants })
  }
  return (
    <div class="scan">
      <PageHead title={t('scan')} back={back} />
      <div class="page reading">
        {reader && (
          <Viewfinder
            reader={reader}
            onCode={(text) => { if (isNew(text)) look(text) }}
            outcome={other && (other.plants.length > 0
              ? <SeveralPlants text={other.text} plants={other.plants} onChoose={take} />
              : <NoPlant text={other.text} />)}
            other={<StillPhoto reader={reader} onCode={look} />}
          />
        )}
      </div>
    </div>
  )
}

function NoPlant({ text }: { readonly text: string }) {
  return (
    <div class="note warn" role="alert">
      <p>{t('scan.none')}</p>
      <code class="read">{text}</code>
      <p>{t('scan.none.why')}</p>
    </div>
  )
}

/** Milliseconds for which a code must be out of sight before it is told of again. */
const away = 2_000

/** Tells codes that have come into sight from those that still are. */
function useNewness(): (text: string) => boolean {
  const last = useRef({ text: '', at: 0 })
  return (text) => {
    const now = performance.now()
    const still = last.current.text === text && now - last.current.at < away
    last.current = { text, at: now }
    return !still
  }
}

/** A reader for as long as the page is open; undefined at first. */
function useReader(): Promise<Reader> | undefined {
  const [reader, setReader] = useState<Promise<Reader> | undefined>(undefined)
  useEffect(() => {
    const opening = openReader()
    setReader(opening)
    return () => void opening.then((opened) => opened.close(), () => {}) // who reads is told why it failed
  }, [])
  return reader
}
