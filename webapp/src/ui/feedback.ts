// A tone and a buzz for each grade: a second sign that a count is stored, never the only one.

import type { ToldGrade } from '../crop/nouns'
import { tones } from './device'

/** Hz, on a pentatonic scale so that any two sound apart: higher is better. */
const pitch: Record<ToldGrade, number> = { extra: 880, first: 659, second: 494, out: 294, '': 587 }

/** Milliseconds of buzz and pause: more pulses, lower grade. */
const buzz: Record<ToldGrade, number[]> = {
  extra: [25], first: [25, 50, 25], second: [25, 50, 25, 50, 25], out: [120], '': [40],
}

let audio: AudioContext | undefined

export function gradeFeedback(grade: ToldGrade): void {
  if (!tones.value) return
  navigator.vibrate?.(buzz[grade])
  play(pitch[grade], 0.09)
}

/** A tag's plant was found. */
export function foundFeedback(): void {
  if (!tones.value) return
  navigator.vibrate?.([60])
  play(1047, 0.14)
}

/** Enough of a colour class is cut: two tones that rise, which nothing else has. */
export function enoughFeedback(): void {
  if (!tones.value) return
  navigator.vibrate?.([60, 60, 60, 60, 240])
  play(784, 0.16)
  play(1175, 0.32, 0.18)
}

export function alarmFeedback(): void {
  if (!tones.value) return
  navigator.vibrate?.([200, 80, 200])
  play(180, 0.4)
}

/**
 * Opens the sound device, which takes long, so that the first tap need not wait for it, and wakes it
 * at each touch, since browsers let nothing else do so. Returns what ends that.
 */
export function prepareFeedback(): () => void {
  if (tones.peek()) audio ??= newAudio()
  addEventListener('pointerdown', wakeAudio)
  return () => removeEventListener('pointerdown', wakeAudio)
}

function wakeAudio(): void {
  if (tones.peek() && audio && audio.state !== 'running') audio.resume().catch(() => {}) // the next touch
}

function play(hertz: number, seconds: number, after = 0): void {
  audio ??= newAudio()
  if (!audio) return
  const tone = audio.createOscillator()
  const volume = audio.createGain()
  tone.frequency.value = hertz
  const from = audio.currentTime + after
  volume.gain.setValueAtTime(0.16, from)
  volume.gain.exponentialRampToValueAtTime(0.001, from + seconds)
  tone.connect(volume).connect(audio.destination)
  tone.start(from)
  tone.stop(from + seconds)
}

function newAudio(): AudioContext | undefined {
  try {
    return new AudioContext()
  } catch {
    return undefined // no sound device: the screen says everything that a tone would
  }
}
