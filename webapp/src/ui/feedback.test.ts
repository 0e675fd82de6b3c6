// With a sound device and a motor that only write down what they are told.

import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { gradesHighToLow, type ToldGrade } from '../crop/nouns'
import { tones } from './device'
import { alarmFeedback, gradeFeedback } from './feedback'

const heard: number[] = []
const felt: (readonly number[])[] = []

class SilentDevice {
  readonly currentTime = 0
  readonly destination = {}
  createOscillator() {
    const frequency = { set value(hertz: number) { heard.push(hertz) } }
    return { frequency, connect: (to: unknown) => to, start() {}, stop() {} }
  }
  createGain() {
    return { gain: { setValueAtTime() {}, exponentialRampToValueAtTime() {} }, connect: (to: unknown) => to }
  }
}

beforeEach(() => {
  heard.length = felt.length = 0
  vi.stubGlobal('AudioContext', SilentDevice)
  vi.stubGlobal('navigator', { vibrate: (pattern: number[]) => felt.push(pattern) })
})

afterEach(() => {
  vi.unstubAllGlobals()
  tones.value = true
})

it('each grade has a tone and a buzz of its own, and so have a number without one and what goes wrong', () => {
  const grades: readonly ToldGrade[] = [...gradesHighToLow, '']
  for (const grade of grades) gradeFeedback(grade)
  alarmFeedback()
  expect(new Set(heard).size).toBe(grades.length + 1)
  expect(new Set(felt.map((pattern) => pattern.join())).size).toBe(grades.length + 1)
})

it('a better grade sounds higher', () => {
  for (const grade of gradesHighToLow) gradeFeedback(grade)
  expect(heard).toEqual(heard.toSorted((a, b) => b - a))
})

it('all is still where that was chosen', () => {
  tones.value = false
  gradeFeedback('extra')
  alarmFeedback()
  expect([heard, felt]).toEqual([[], []])
})
