// The mark of a plant in a drawing of colours: its shape says how it stands, since its colour is its own.

import type { StandPlant, StandState } from './colour_stand'

export type MarkShape = StandState | 'reference'

export function shapeOf({ plant, state }: Pick<StandPlant, 'plant' | 'state'>): MarkShape {
  return plant.reference ? 'reference' : state
}

interface MarkProps {
  readonly shape: MarkShape
  readonly x: number
  readonly y: number
  readonly fill: string
  readonly title?: string
}

/** Drawn around the origin. */
const outlines: Readonly<Record<MarkShape, string>> = {
  none: circle(6), first: circle(4.5), cannot_tell: circle(6), drift: 'M0 -9.5L9.5 0L0 9.5L-9.5 0Z', watch: 'M0 -9L8.500 6.500H-8.500Z', reference: 'M-6 -6H6V6H-6Z',
}

function circle(r: number): string {
  return `M${-r} 0a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`
}

export function Mark({ shape, x, y, fill, title }: MarkProps) {
  return (
    <g class={`colour-mark ${shape}`} transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}>
      {title !== undefined && <title>{title}</title>}
      <path d={outlines[shape]} fill={fill} />
      {shape === 'reference' && <path class="inner" d="M-3 0H3M0 -3V3" />}
    </g>
  )
}
