// The region that somebody meant who tapped or stroked over a head.

import { featuresOf, formScore, type Field } from './candidates'
import { pixelsOf, type Choice } from './head'
import type { Point } from './measurement'
import { outside } from './regions'

/** touched are pixels of the photo. undefined where none of them lies on anything but the card. */
export function touchedRegion(field: Field, touched: readonly Point[]): Choice | undefined {
  const cells = touched.filter(({ x, y }) => Number.isFinite(x) && Number.isFinite(y)).map(p => cellAt(field, p)).filter(cell => cell !== outside)
  if (cells.length === 0) return undefined
  const { tree } = field
  const held = new Int32Array(tree.nodes)
  for (const cell of cells) for (let node = cell; node !== -1; node = tree.parent[node]!) held[node]!++
  let best = -1
  let most = -Infinity
  for (let node = 0; node < tree.nodes; node++) {
    const share = held[node]! / cells.length
    if (share < 0.5) continue
    const features = featuresOf(field, node)
    if (features === undefined) continue
    const score = formScore(features) - 6 * (1 - share)
    if (score > most) {
      most = score
      best = node
    }
  }
  if (best < 0) best = cells[0]!
  return { rough: pixelsOf(field, best), others: [] }
}

function cellAt({ image, cells }: Field, { x, y }: Point): number {
  const [column, row] = [Math.floor((x - image.left) / image.step), Math.floor((y - image.top) / image.step)]
  if (column < 0 || row < 0 || column >= image.width || row >= image.height) return outside
  return cells.of[row * image.width + column]!
}
