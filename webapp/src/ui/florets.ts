// The florets of a flower head, drawn alike as SVG and on a canvas: a phyllotaxis spiral (Vogel 1979: the
// n-th floret at n times 137.5 degrees, its distance as the root of n) in three tones of one colour.

const goldenAngle = Math.PI * (3 - Math.sqrt(5))

/** Paths around the origin, in the words of SVG. */
export interface Florets {
  deep: string
  mid: string
  high: string
  /** The florets' own middles, worth drawing where the head is large. */
  eyes: string
}

/** Of how much of another colour each layer is mixed, in the order in which they are drawn. */
export const layers = [
  { florets: 'mid', towards: '#000000', percent: 5 },
  { florets: 'deep', towards: '#000000', percent: 20 },
  { florets: 'high', towards: '#ffffff', percent: 14 },
  { florets: 'eyes', towards: '#fff3d0', percent: 38 },
] as const satisfies readonly { florets: keyof Florets; towards: string; percent: number }[]

/** What shows between the florets: a disc of this share of the radius. */
export const ground = { share: 0.9, towards: '#000000', percent: 26, opacity: 0.5 } as const

/** From this radius on, in pixels, the middles of florets can be seen. */
export const leastWithEyes = 24

/** The paths of a head of a radius. */
export function floretPaths(r: number): Florets {
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

/** Five petals around the origin. */
export function blossomPath(r: number): string {
  const [petal, reach] = [r * 0.42, r * 0.58]
  return [0, 1, 2, 3, 4].map((i) => {
    const angle = (i * 2 * Math.PI) / 5 - Math.PI / 2
    return disc(reach * Math.cos(angle), reach * Math.sin(angle), petal)
  }).join('') + disc(0, 0, reach * 0.7)
}

function disc(x: number, y: number, r: number): string {
  const [left, d] = [(x - r).toFixed(1), (2 * r).toFixed(1)]
  const arc = r.toFixed(1)
  return `M${left} ${y.toFixed(1)}a${arc} ${arc} 0 1 0 ${d} 0a${arc} ${arc} 0 1 0-${d} 0z`
}
