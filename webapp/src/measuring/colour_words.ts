// A measured colour in the words of somebody who sees it: they stand beside the swatch, for eyes and screens that
// tell colours badly. Which words is of no consequence: nothing is decided by them.

import { chroma, type Lab } from '../colour/lab'

export type Hue =
  | 'white' | 'grey' | 'black' | 'cream' | 'pink' | 'purplish_red' | 'red' | 'salmon' | 'orange' | 'brown' | 'yellow' | 'ochre'
  | 'greenish_yellow' | 'green' | 'blue' | 'violet' | 'purple' | 'magenta'
export type Manner = 'plain' | 'pale' | 'dark' | 'strong' | 'dull'

export interface ColourWords {
  readonly hue: Hue
  readonly manner: Manner
}

export function wordsOf(lab: Lab): ColourWords {
  const hue = hueOf(lab)
  return { hue, manner: hue === 'white' || hue === 'grey' || hue === 'black' || hue === 'cream' ? 'plain' : mannerOf(lab) }
}

function mannerOf(lab: Lab): Manner {
  const c = chroma(lab)
  if (lab.L < 35) return 'dark'
  if (lab.L >= 75 && c < 40) return 'pale'
  if (c >= 60) return 'strong'
  return c < 25 ? 'dull' : 'plain'
}

/** Bounds of the hue angle in CIELAB, set by eye at colours of known names. */
function hueOf(lab: Lab): Hue {
  const c = chroma(lab)
  const angle = (Math.atan2(lab.b, lab.a) * (180 / Math.PI) + 360) % 360
  if (c < 6) return lab.L >= 85 ? 'white' : lab.L < 25 ? 'black' : 'grey'
  if (lab.L >= 85 && c < 18 && angle >= 55 && angle < 115) return 'cream'
  if (angle >= 345 || angle < 20) return lab.L >= 48 ? 'pink' : 'purplish_red'
  if (angle < 48) return lab.L >= 60 ? 'salmon' : 'red'
  if (angle < 78) return lab.L >= 50 ? 'orange' : 'brown'
  if (angle < 105) return lab.L >= 60 ? 'yellow' : 'ochre'
  return angle < 120 ? 'greenish_yellow' : angle < 200 ? 'green' : angle < 300 ? 'blue' : angle < 318 ? 'violet' : angle < 335 ? 'purple' : 'magenta'
}
