// A photo that was measured, for tests: a head of 8.4 cm beside a card of a batch.

import type { Measurement } from '../../colourcard/measurement'
import type { Taken } from '../taken'

export function takenWith(told: Partial<Measurement> = {}): Taken {
  const measurement: Measurement = {
    card: { batch: 'K7M2QX', version: 1, corners: [{ x: 50, y: 10 }, { x: 90, y: 10 }, { x: 90, y: 40 }, { x: 50, y: 40 }] },
    lab: { L: 52.1, a: 38, b: 4.2 }, se: { L: 0.6, a: 0.9, b: 0.8 }, spread: 8.4, spreadSE: 0.3,
    head: { outline: [{ x: 16, y: 32 }, { x: 48, y: 32 }, { x: 48, y: 96 }, { x: 16, y: 96 }], by: 'proposed' },
    quality: 83, problems: ['uneven_light'], refused: false, ...told,
  }
  return { picture: new Blob(), width: 128, height: 128, measurement, camera: 'back, 1920x1440', fromFile: false, day: '' }
}
