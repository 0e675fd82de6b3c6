// A corymb seen from above: florets on a phyllotaxis spiral (Vogel 1979: the n-th floret at
// n times 137.5 degrees, its distance as the root of n) in the plant's own colour.

import { useMemo } from 'preact/hooks'

const goldenAngle = Math.PI * (3 - Math.sqrt(5))

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
      <circle r={r * 0.9} fill={tint(colour, 'black', 26)} opacity="0.5" />
      <path d={florets.mid} fill={tint(colour, 'black', 5)} />
      <path d={florets.deep} fill={tint(colour, 'black', 20)} />
      <path d={florets.high} fill={tint(colour, 'white', 14)} />
      {r >= 24 && <path d={florets.eyes} fill={tint(colour, '#fff3d0', 38)} />}
    </g>
  )
}

function tint(colour: string, towards: string, percent: number): string {
  return `color-mix(in srgb, ${colour}, ${towards} ${percent}%)`
}

interface Florets { deep: string; mid: string; high: string; eyes: string }

function floretPaths(r: number): Florets {
  const n = Math.max(7, Math.min(34, Math.round(r * 1.2)))
  const floret = r * 0.23 + 0.5
  const paths: Florets = { deep: '', mid: '', high: '', eyes: '' }
  const tones = ['deep', 'mid', 'high'] as const
  for (let i = n - 1; i >= 0; i--) {
    const reach = (r - floret) * Math.sqrt((i + 0.5) / n)
    const x = reach * Math.cos(i * goldenAngle)
    const y = reach * Math.sin(i * goldenAngle)
    paths[tones[i % 3] ?? 'mid'] += disc(x, y, floret)
    paths.eyes += disc(x, y, floret * 0.2)
  }
  return paths
}

function disc(x: number, y: number, r: number): string {
  const [left, d] = [(x - r).toFixed(1), (2 * r).toFixed(1)]
  const arc = r.toFixed(1)
  return `M${left} ${y.toFixed(1)}a${arc} ${arc} 0 1 0 ${d} 0a${arc} ${arc} 0 1 0-${d} 0z`
}
