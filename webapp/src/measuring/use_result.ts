// What can be done with a photo that was measured: measuring it where the head was touched, and keeping it.

import { useRef, useState } from 'preact/hooks'
import type { Point } from '../colourcard/measurement'
import type { Plant, Reading } from '../crop/nouns'
import { t } from '../messages/messages'
import { usePhotos } from '../photos/context'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { knownCards } from './known_cards'
import type { Measurer } from './measurer'
import { Readings } from './readings'
import type { Taken, Told } from './taken'
import { colourText } from './words'

export interface Correcting {
  readonly busy: boolean
  /** What is shown was measured where somebody touched. */
  readonly touched: boolean
  /** The last touch came to nothing: what is shown is what was measured before. */
  readonly failed: boolean
  /** Measures where it was touched; without points, where the head is proposed. */
  readonly touch: (points: readonly Point[] | undefined) => void
}

export function useCorrecting(measurer: Measurer, taken: Taken, onTaken: (taken: Taken) => void): Correcting {
  const notebook = useNotebook()
  const [busy, setBusy] = useState(false)
  const [touched, setTouched] = useState(false)
  const [failed, setFailed] = useState(false)
  const last = useRef(0)
  const touch = async (points: readonly Point[] | undefined) => {
    const mine = ++last.current
    setBusy(true)
    setFailed(false)
    try {
      const measurement = await measurer.again(points, knownCards(notebook.farm.peek(), today.peek()))
      if (mine === last.current) {
        setTouched(points !== undefined)
        onTaken({ ...taken, measurement })
      }
    } catch (reason) {
      console.error('measuring where the head was touched', reason)
      if (mine === last.current) setFailed(true)
    }
    if (mine === last.current) setBusy(false)
  }
  return { busy, touched, failed, touch: (points) => void touch(points) }
}

export interface Keeping {
  readonly busy: boolean
  readonly failure: unknown
  /** With the photo or without. */
  readonly keep: (told: Told, withPhoto: boolean) => void
}

export function useKeeping(measurer: Measurer, plant: Plant, taken: Taken, onKept: (reading: Reading) => void): Keeping {
  const notebook = useNotebook()
  const photos = usePhotos()
  const [failure, setFailure] = useState<unknown>(undefined)
  const [busy, setBusy] = useState(false)
  // A second tap, before the first is seen to be done, would keep it twice.
  const running = useRef(false)
  const keep = async (told: Told, withPhoto: boolean) => {
    if (running.current) return
    running.current = true
    setBusy(true)
    setFailure(undefined)
    try {
      const prepared = withPhoto ? await measurer.prepare() : undefined
      const reading = await Readings.of(notebook).keep(photos, plant, taken, told, prepared)
      announce(t('measuring.stored', { code: plant.code, colour: colourText(reading.lab) }))
      onKept(reading)
    } catch (reason) {
      console.error('keeping a reading', reason)
      setFailure(reason)
    }
    running.current = false
    setBusy(false)
  }
  return { busy, failure, keep: (told, withPhoto) => void keep(told, withPhoto) }
}
