// The colours of the card as they were sent to the printer: what is known of a batch that nobody has measured.

import { decoded, labOfRGB, sRGB } from '../colour/rgb'
import { cardColours } from './geometry'
import type { KnownCard } from './measurement'

/** Printers fit pages to their paper by some percent, unless told not to (common practice, no source). */
export const scaleUnmeasured = 0.025
/** With a ruler, 0.3 mm of 80. */
export const scaleMeasured = 0.004

/** Paper and printers differ from that by some units. */
export const asPrinted: KnownCard = {
  patches: cardColours.map(([r, g, b]) => labOfRGB({ r: decoded(r / 255), g: decoded(g / 255), b: decoded(b / 255) }, sRGB)),
  se: 3, scale: 1, scaleSE: scaleUnmeasured, retired: false,
}
