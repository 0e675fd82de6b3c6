// A corymb seen from above in the plant's own colour, as SVG.

import { useMemo } from 'preact/hooks'
import { floretPaths, ground, layers, leastWithEyes } from './florets'

interface HeadProps {
  /** Colour of the head, '#rrggbb', or '' where it was never seen in bloom. */
  readonly swatch: string
  readonly size: number
}

/** The flower head alone, for places where the words stand beside it. */
export function Head({ swatch, size }: HeadProps) {
  return (
    <svg class="head" width={size} height={size} viewBox={`0 0 ${size} ${size}`} aria-hidden="true">
      <HeadShape swatch={swatch} x={size / 2} y={size / 2} r={size / 2 - 1} />
    </svg>
  )
}

interface HeadShapeProps {
  readonly swatch: string
  readonly x: number
  readonly y: number
  readonly r: number
}

/** A flower head within a larger drawing. */
export function HeadShape({ swatch, x, y, r }: HeadShapeProps) {
  const florets = useMemo(() => floretPaths(r), [r])
  const colour = swatch || 'var(--line-2)'
  return (
    <g transform={`translate(${x} ${y})`}>
      <circle r={r * ground.share} fill={tint(colour, ground.towards, ground.percent)} opacity={ground.opacity} />
      {layers.map((layer) => (layer.florets === 'eyes' && r < leastWithEyes
        ? null
        : <path key={layer.florets} d={florets[layer.florets]} fill={tint(colour, layer.towards, layer.percent)} />))}
    </g>
  )
}

function tint(colour: string, towards: string, percent: number): string {
  return `color-mix(in srgb, ${colour}, ${towards} ${percent}%)`
}
