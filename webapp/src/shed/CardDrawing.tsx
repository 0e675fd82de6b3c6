// A colour card as it lies before one: each patch in its colour and, where asked, with its number.

import type { Lab } from '../colour/lab'
import { show } from '../colour/shown'
import { cardColours, cardHeight, cardWidth, codeModule, codeModules, codeX, codeY, paper, patches, patchSide } from '../colourcard/geometry'

interface CardDrawingProps {
  /** In the order of the geometry; none draws the colours as they are printed. */
  readonly labs?: readonly Lab[]
  /** Whether each patch bears the number of its colour, from 1. */
  readonly numbered?: boolean
  /** The colour that is pointed out. */
  readonly pointed?: number | undefined
  /** What it shows, for whoever does not see it; '' where that is said beside it. */
  readonly label?: string
}

export function CardDrawing({ labs = [], numbered = false, pointed, label = '' }: CardDrawingProps) {
  const said = label === '' ? { 'aria-hidden': true } : { role: 'img' as const, 'aria-label': label }
  return (
    <svg class="card-drawing" viewBox={`0 0 ${cardWidth} ${cardHeight}`} {...said}>
      <rect class="card-ground" x="0.3" y="0.3" width={cardWidth - 0.6} height={cardHeight - 0.6} rx="2" />
      <Code />
      <path class="card-lines" d={`M5 63h80${Array.from({ length: 9 }, (_, i) => `M${5 + 10 * i} 60v3`).join('')}`} />
      {patches.map(({ x, y, colour }) => (
        <rect key={`${x} ${y}`} x={x} y={y} width={patchSide} height={patchSide} fill={fill(labs, colour)} class={colour === paper ? 'card-bare' : undefined} />
      ))}
      {patches.map(({ x, y, colour }) => colour === pointed && (
        <rect key={`${x} ${y} pointed`} class="card-pointed" x={x - 1} y={y - 1} width={patchSide + 2} height={patchSide + 2} rx="1" />
      ))}
      {numbered && patches.map(({ x, y, colour }) => (
        <g key={`${x} ${y} number`} class="card-number">
          <circle cx={x + patchSide / 2} cy={y + patchSide / 2} r="5" />
          <text x={x + patchSide / 2} y={y + patchSide / 2}>{colour + 1}</text>
        </g>
      ))}
    </svg>
  )
}

/** What a screen shows for a colour of a card. */
export function fill(labs: readonly Lab[], colour: number): string {
  const lab = labs[colour]
  const [r, g, b] = cardColours[colour] ?? cardColours[paper]!
  if (!lab) return `rgb(${r} ${g} ${b})`
  const shown = show(lab)
  return `rgb(${shown.r} ${shown.g} ${shown.b})`
}

/** The three corners of the code, and no more: nobody is to scan a drawing. */
function Code() {
  const side = codeModules * codeModule
  const corner = 7 * codeModule
  const middle = 3 * codeModule
  const at = [[codeX, codeY], [codeX + side - corner, codeY], [codeX, codeY + side - corner]] as const
  return (
    <>
      {at.map(([x, y]) => (
        <g key={`${x} ${y}`}>
          <rect class="card-corner" x={x + codeModule / 2} y={y + codeModule / 2} width={corner - codeModule} height={corner - codeModule} stroke-width={codeModule} />
          <rect class="card-ink" x={x + 2 * codeModule} y={y + 2 * codeModule} width={middle} height={middle} />
        </g>
      ))}
    </>
  )
}
